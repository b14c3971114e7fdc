"""``days since fixed of c``: a measure for each event and kind of thing, where it is asked for."""

from __future__ import annotations

import pytest

from advisor.language.format import format_file
from advisor.language.nodes import Call, Compare, Example, Name, Since
from advisor.language.parse import parse_file
from advisor.language.since import EVENTS, as_call, event_of, events_asked, kind_of, since_measure, since_name
from advisor.model.tank import EventKind
from advisor.model.vocabulary import Kind, NumberType
from tests.language.texts import checked, codes, rule, truth
from tests.language.trees import AT

RULE = """
rule look-again
  for coral c
  expect days since seen of c <= 14 days
  level advice
  because "{c} was seen {days since seen of c} ago and fed {days since fed of tank} ago"
"""


def test_it_is_read_with_its_event_and_its_thing() -> None:
    found = truth("days since fixed of a.spot >= 10 days")
    assert isinstance(found, Compare)
    assert isinstance(found.left, Since)
    assert found.left.event == "fixed"
    assert isinstance(found.left.of, Call)


def test_days_stays_a_unit_and_may_begin_a_name() -> None:
    assert isinstance(truth("days-here(a) >= 10 days"), Compare)


def test_the_vocabulary_learns_what_is_asked_for_and_nothing_else() -> None:
    library, problems = checked(RULE)
    assert problems == ()
    made = sorted(name for name in library.vocabulary.measures if event_of(name))
    assert made == ["days-since-fed-of-tank", "days-since-seen"]
    measure = library.vocabulary.measures["days-since-seen"]
    assert isinstance(measure.type, NumberType)
    assert measure.type.unit.name == "days"


def test_events_in_a_condition_on_another_animal_have_its_kind() -> None:
    found = rule(
        RULE.replace("days since seen of c <= 14 days", "any place p where days since fed of p <= 1 days")
    )
    assert {measure.name for measure in events_asked(found)} == {
        "days-since-fed-of-place", "days-since-seen", "days-since-fed-of-tank",
    }  # fmt: skip


def test_an_example_states_it_in_the_same_words() -> None:
    example = """
example "long ago" for look-again
  given x is coral
        days since seen of x = 20 days
        days since fed of tank = 1 days
  then  x undecided needs days since seen of x
"""
    library, problems = checked(RULE + example)
    assert problems == ()
    (found,) = library.examples
    assert isinstance(found, Example)
    named = [given.fact.name for given in found.givens if given.fact is not None]
    assert named == ["days-since-seen", "days-since-fed-of-tank"]
    assert found.thens[0].needs[0].name == "days-since-seen"
    file, _ = parse_file("x.rules", "edition 1\n" + RULE + example)
    again = format_file(file)
    assert "        days since seen of x = 20 days\n" in again
    assert "needs days since seen of x\n" in again


def test_what_an_example_states_and_no_rule_asks_for_is_told() -> None:
    _, problems = checked(RULE + 'example "no" for look-again\n  given x is coral\n'
                          "        days since trimmed of x = 2 days\n  then  x holds\n")  # fmt: skip
    assert codes(problems) == ["word-104"]


@pytest.mark.parametrize("event", EVENTS)
@pytest.mark.parametrize("kind", Kind)
def test_a_name_leads_back_to_its_event(event: str, kind: Kind) -> None:
    assert event_of(since_name(event, kind)) == event
    assert since_measure(event, kind).name == since_name(event, kind)
    assert event in since_measure(event, kind).ask


def test_every_event_of_the_journal_can_be_asked_for_and_no_other() -> None:
    assert set(EVENTS) == {kind.value for kind in EventKind}
    assert event_of("days-since-glued") == event_of("days-here") == event_of("fixed") == ""


def test_the_kind_comes_from_what_is_introduced() -> None:
    kinds = {"x": Kind.CORAL, "p": Kind.PLACE}
    for of, kind in ((Name(AT, "x"), Kind.CORAL), (Name(AT, "p"), Kind.PLACE), (Name(AT, "tank"), Kind.TANK)):
        assert kind_of(of, kinds) is kind
        assert as_call(Since(AT, "fed", of, AT), kinds).name == since_name("fed", kind)
    assert kind_of(Call(AT, "spot", (Name(AT, "x"),)), kinds) is Kind.PLACE
