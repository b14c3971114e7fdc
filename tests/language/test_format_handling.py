"""Actions and handling sheets printed in their one form."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from advisor.language.format import format_file, same_tree
from advisor.language.nodes import Action, Declaration, Handling, HandlingKind, HandlingLine, RuleFile
from advisor.language.parse import parse_file
from tests.language.trees import AT, plain_texts, sources

FORM = """edition 1

action boil "boiling it"
  also "cook", "hot water"

handling zoanthids "zoanthids"
  about    hazard palytoxin
  about    unknown
  never    boil, steam
           "Never boil it."
           instead touch, cut "Leave it."
           source "A 2015" kind study
  sign     "a bitter taste"
           source "B" kind guess dated 2015
"""


def test_sheets_have_one_form() -> None:
    loose = FORM.replace("           instead", "    instead").replace("about    ", "about ")
    file, problems = parse_file("test.rules", loose)
    assert problems == ()
    assert format_file(file) == FORM


names = st.sampled_from(("boil", "steam", "cut", "level", "about-it"))
texts = plain_texts.filter(lambda text: text.strip() != "" and text == " ".join(text.split()))
word_lists = st.lists(texts, max_size=3).map(tuple)
acts = st.lists(names, min_size=1, max_size=3, unique=True).map(tuple)
grounds = st.none() | sources
nevers = st.builds(
    HandlingLine, st.just(AT), st.just(HandlingKind.NEVER), texts, acts, texts, grounds, st.just(()) | acts,
)  # fmt: skip
bare = st.builds(HandlingLine, st.just(AT), st.just(HandlingKind.NEVER), texts, acts, st.just(""), grounds)
ways = st.builds(
    HandlingLine, st.just(AT), st.sampled_from((HandlingKind.SAFE, HandlingKind.WAIT)), texts, acts,
    st.just(""), grounds,
)  # fmt: skip
told = st.builds(
    HandlingLine, st.just(AT), st.sampled_from((HandlingKind.SIGN, HandlingKind.HELP, HandlingKind.DEFER)),
    texts, st.just(()) | acts, st.just(""), grounds,
)  # fmt: skip
all_lines = st.lists(nevers | bare | ways | told, min_size=1, max_size=4).map(tuple)
sheets = st.builds(
    Handling, st.just(AT), names, texts, all_lines,
    st.sampled_from(((), ("palytoxin",), ("palytoxin", "rash"))), st.sampled_from(((), ("soft",))),
    st.just(True), st.booleans(),
)  # fmt: skip
actions = st.builds(Action, st.just(AT), names, texts, word_lists)


@given(actions | sheets)
def test_what_is_printed_reads_back_the_same(item: Declaration) -> None:
    file = RuleFile("test.rules", 1, (item,))
    again, problems = parse_file("test.rules", format_file(file))
    assert problems == ()
    assert same_tree(again, file)
