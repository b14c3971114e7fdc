"""Rules, preferences and examples out of the parser's tree."""

from __future__ import annotations

from advisor.language.nodes import (
    Example,
    Level,
    Outcome,
    Prefer,
    Stage,
)
from advisor.model.vocabulary import Kind
from tests.language.texts import codes, faults, read, rule


def test_a_rule_has_all_its_clauses_in_any_order() -> None:
    found = rule(
        'rule x\n  for animal a, neighbour n of a, place p\n  level danger\n  because "{a}" stage gate\n'
        '  expect size(a) > 3 cm until horizon\n  then do "feed {a}"\n  then do "look"\n  unless fed(a)\n'
        '  when pale(a)\n  matters "why"\n  remedy "move {n}"\n  source "s" kind study'
    )
    assert (found.level, found.stage, found.until_horizon) == (Level.DANGER, Stage.GATE, True)
    assert [(b.kind, b.name, b.neighbour_of) for b in found.binders] == [
        (Kind.ANIMAL, "a", ""),
        (Kind.ANIMAL, "n", "a"),
        (Kind.PLACE, "p", ""),
    ]
    assert len(found.duties) == 2
    assert found.when is not None
    assert found.unless is not None


def test_a_rule_may_be_checked_by_eye() -> None:
    found = rule('rule x\n  for tank\n  expect-by-eye "polyps are open"\n  level advice\n  because "y"')
    assert (found.expect, found.by_eye) == (None, "polyps are open")


def test_a_preference_fades_over_ten_steps_unless_it_says_so() -> None:
    text = 'prefer x\n  for animal a\n  want size(a) > 3 cm\n  weight 2\n  because "y"'
    (plain,) = read(text).declarations
    (said,) = read(text.replace("weight 2", "weight 2 fade 4 steps")).declarations
    assert isinstance(plain, Prefer)
    assert isinstance(said, Prefer)
    assert (plain.weight, plain.fade_steps, said.fade_steps) == (2.0, 10.0, 4.0)


def example(given: str, then: str = "a-1 holds") -> Example:
    """One example."""
    (item,) = read(f'example "e" for x\n  given {given}\n  then {then}').declarations
    assert isinstance(item, Example)
    return item


def test_what_is_said_with_a_thing_becomes_facts() -> None:
    found = example("a-1 is coral with potency = 3, footing = rock, sand, fenced = yes").givens
    assert [(g.entity, g.fact.name if g.fact else "", g.word) for g in found] == [
        ("a-1", "", ""),
        ("", "potency", ""),
        ("", "footing", "rock, sand"),
        ("", "fenced", "yes"),
    ]
    assert found[1].low is not None
    assert found[1].low.value == 3.0


def test_a_fact_is_a_number_a_range_a_word_or_not_known() -> None:
    found = example(
        "gap(a, b) = 3 cm gap(a, c) = 3 to 5 cm light(a.spot) unknown ground(a.spot) = rock, sand"
    ).givens
    assert [(g.low.value if g.low else None, g.high.value if g.high else None, g.word) for g in found] == [
        (3.0, 3.0, ""),
        (3.0, 5.0, ""),
        (None, None, ""),
        (None, None, "rock, sand"),
    ]
    assert found[1].low is not None
    assert found[1].low.unit == "cm"


def test_every_outcome_can_be_asked_for() -> None:
    found = example(
        "a-1 is coral",
        "a-1 holds by 3 cm\n b, c fails by 2 cm\n"
        " a-1 undecided needs gap(a-1, b), size(b) too close leans yes\n"
        " a-1 excused\n then at month 12 a-1 not covered",
    ).thens
    assert [then.outcome for then in found] == [
        Outcome.HOLDS,
        Outcome.FAILS,
        Outcome.UNDECIDED,
        Outcome.EXCUSED,
        Outcome.NOT_COVERED,
    ]
    assert found[1].entities == ("b", "c")
    assert ([call.name for call in found[2].needs], found[2].too_close, found[2].leans) == (
        ["gap", "size"],
        True,
        "yes",
    )
    assert found[4].month == 12.0


def test_missing_clauses_are_told_by_name() -> None:
    (problem,) = faults("rule x\n  for animal a\n  expect size(a) > 3 cm\n  level advice")
    assert problem.what == "a rule 'x' has no 'because'"
    assert codes(faults("prefer x\n  for animal a\n  weight 3")) == ["word-114"]
