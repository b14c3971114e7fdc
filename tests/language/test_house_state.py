"""What house lines are held against."""

from __future__ import annotations

from dataclasses import replace

from advisor.errors import Severity, Span
from advisor.language.house_state import (
    House,
    base,
    caution_kept,
    dangers_loosened,
    dangers_on,
    is_caution,
    names_behind,
    no_reason,
    reason_due,
    same,
)
from advisor.language.library import AsideKind
from advisor.language.nodes import Level, Number
from advisor.model.vocabulary import Kind
from tests.language.house_lines import edit, edits, fresh
from tests.language.texts import base_library, checked, codes

LINE = "change sweeper-allowance from 5 cm to 6 cm"


def test_numbers_are_compared_in_base_units() -> None:
    at = Span("x")
    assert same(base(Number(at, 50.0, "mm")), base(Number(at, 5.0, "cm")))
    assert same(base(Number(at, 2.0, "in")), base(Number(at, 5.08, "cm")))
    assert not same(base(Number(at, 5.0, "cm")), base(Number(at, 5.1, "cm")))


def test_a_refusal_is_an_error_unless_it_is_told_otherwise() -> None:
    house = fresh()
    house.refuse("house-502", "what", Span("x"))
    house.refuse("house-511", "what", Span("x"), severity=Severity.NOTE)
    assert [problem.severity for problem in house.problems] == [Severity.ERROR, Severity.NOTE]


def test_a_reason_is_due_where_a_danger_rests_on_a_name() -> None:
    house = fresh()
    assert reason_due(house, edit(LINE), frozenset({"sweeper-allowance"}), "it")
    assert not reason_due(house, edit(f'{LINE} because "x"'), frozenset({"sweeper-allowance"}), "it")
    assert not reason_due(house, edit(LINE), frozenset({"low-light"}), "it")
    assert codes(tuple(house.problems)) == ["house-504"]
    assert " ".join(house.problems[0].mend.split()) == f'{LINE} because "your reason"'


def test_the_danger_that_a_line_loosens_is_named() -> None:
    dim = """
rule {0}
  for animal a
  expect light(a.spot) {1} low-light
  level danger
  because "{{a}}"
"""
    library, _ = checked(dim.format("not-too-dim", ">=") + dim.format("not-too-bright", "<="))
    for number, loosened in ((60, "not-too-bright"), (40, "not-too-dim")):
        house = House.of(library)
        (line,) = edits(f"change low-light from 50 PAR to {number} PAR")
        assert [rule.name for rule in dangers_loosened(house, line, frozenset({"low-light"}))] == [loosened]
        assert reason_due(house, line, frozenset({"low-light"}), "it")
        assert house.problems[0].label == f"the danger '{loosened}' rests on it"


def test_a_rule_that_a_line_makes_a_danger_counts_as_one() -> None:
    library = base_library()
    assert dangers_on(House.of(library), frozenset({"light-min"})) == []
    (made,) = dangers_on(House.of(library, {"light-enough": Level.DANGER}), frozenset({"light-min"}))
    assert made is library.rules["light-enough"]


def test_what_looks_after_people_is_known_and_stays() -> None:
    library, house = base_library(), fresh()
    assert is_caution(library.rules["mind-your-hands"], library)
    assert not is_caution(library.rules["keep-clear"], library)
    caution_kept(house, edit("switch off mind-your-hands"), library.rules["mind-your-hands"], "switched off")
    no_reason(house, edit("switch off keep-clear"), "it", "a reason is needed")
    assert codes(tuple(house.problems)) == ["house-506", "house-504"]


def test_what_drifted_is_told_and_kept() -> None:
    house, line = fresh(), edit(LINE)
    where = base_library().lets["sweeper-allowance"].span
    house.drifted(line, line.span, where, "7 cm", "your 6 cm is less", line)
    (problem,), (aside,) = house.problems, house.aside
    assert problem.code == "house-501"
    assert problem.label == f"now 7 cm (base.rules:{where.line})"
    assert (aside.kind, aside.where) == (AsideKind.DRIFTED, where)


def test_a_danger_rests_on_the_lines_of_cards_behind_what_it_compares() -> None:
    """A gap is worked out of widths, so that how far an animal swells can end a danger."""
    library, house = base_library(), fresh()
    danger = library.rules["keep-clear"]
    assert {"gap", "swells"} <= names_behind(danger, library)
    assert "grows-out" in names_behind(danger, library)
    assert "grows-out" not in names_behind(replace(danger, until_horizon=False), library)
    assert dangers_on(house, frozenset({"swells"})) == [danger]
    line = edit("change torch swells most from 2 times to 1 times")
    assert reason_due(house, line, frozenset({"swells"}), "it")
    assert codes(tuple(house.problems)) == ["house-504"]


def test_whom_a_danger_asks_is_told_by_lines_of_cards_too() -> None:
    library = base_library()
    danger = library.rules["keep-clear"]
    binders = tuple(replace(binder, kind=Kind.CORAL) for binder in danger.binders)
    assert "group" in names_behind(replace(danger, binders=binders), library)
    assert "weapons" in names_behind(
        replace(danger, binders=(replace(binders[0], kind=Kind.WEAPON),)), library
    )
