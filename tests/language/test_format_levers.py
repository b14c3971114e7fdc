"""Levers printed in their one form."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from advisor.language.format import format_file, same_tree
from advisor.language.nodes import Expr, Lever, LeverWay, Name, Number, RuleFile, Text
from advisor.language.parse import parse_file
from advisor.model.vocabulary import Kind, Param
from tests.language.trees import AT

FORM = """edition 1

lever part(animal a, animal b) changes gap(a, b) up by 1 cm cost 2
  say "move {a} away from {b}"
  not-checked "what {a} would then stand beside"

lever bed(place p) makes ground(p) = sand cost 3.5
  say "put sand under {p}"
"""


def test_levers_have_one_form() -> None:
    loose = FORM.replace("\n  say", "   say").replace(" cost", "\n  cost").replace("(a, b)", "(a,b)")
    file, problems = parse_file("test.rules", loose)
    assert problems == ()
    assert format_file(file) == FORM


names = st.sampled_from(("part", "gap", "level", "cost-of", "x"))
_pieces: st.SearchStrategy[str | Expr] = st.sampled_from(("move ", "the ", Name(AT, "a"), Name(AT, "b")))
texts = st.lists(_pieces, max_size=4).map(
    lambda pieces: Text(AT, tuple(piece for at, piece in enumerate(pieces) if at == 0 or not isinstance(
        piece, str) or not isinstance(pieces[at - 1], str)))
)  # fmt: skip
params = (Param(Kind.ANIMAL, "a"), Param(Kind.PLACE, "b"))
costs = st.floats(0.001, 1000.0)
steps = st.builds(Number, st.just(AT), st.floats(0.01, 100.0), st.sampled_from(("cm", "PAR", "")))
moved = st.builds(
    Lever, st.just(AT), names, st.just(params), names, st.just(("a", "b")), st.just(AT), costs, texts,
    steps, st.sampled_from(LeverWay), st.just(""), st.none() | texts,
)  # fmt: skip
made = st.builds(
    Lever, st.just(AT), names, st.just(params), names, st.just(("b",)), st.just(AT), costs, texts,
    st.none(), st.just(LeverWay.EITHER), st.sampled_from(("", "sand")), st.none() | texts,
)  # fmt: skip


@given(moved | made)
def test_a_printed_lever_reads_back_the_same(lever: Lever) -> None:
    file = RuleFile("test.rules", 1, (lever,))
    again, problems = parse_file("test.rules", format_file(file))
    assert problems == ()
    assert same_tree(again, file)
