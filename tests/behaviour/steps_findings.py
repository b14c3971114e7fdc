"""What an audit finds, and what stands on the screen."""

from __future__ import annotations

import re

from pytest_bdd import parsers, then

from tests.behaviour.keeper import Keeper, middle


@then(parsers.re(r"something is wrong between (?P<one>\S+) and (?P<other>\S+) now"))
def wrong_between(keeper: Keeper, one: str, other: str) -> None:
    now = keeper.answer()["now"]
    assert any({one, other} <= set(each["reason"]["subjects"]) for each in now)
    assert one in keeper.last.out
    assert other in keeper.last.out


@then(parsers.re(r"something is wrong with (?P<coral>\S+)(?P<when> now)?"))
def wrong_with(keeper: Keeper, coral: str, when: str | None) -> None:
    found = keeper.answer()["now"] if when else keeper.findings()
    assert any(coral in each["reason"]["subjects"] for each in found)


@then(parsers.re(r"the finding says (?P<here>[\d.]+) cm where (?P<wanted>[\d.]+) cm is wanted"))
def finding_says(keeper: Keeper, here: str, wanted: str) -> None:
    seen = [
        (middle(each["reason"]["here"]), middle(each["reason"]["wanted_low"])) for each in keeper.findings()
    ]
    assert (float(here), float(wanted)) in seen
    assert here in keeper.last.out
    assert f"{wanted} cm" in keeper.last.flat


@then("nothing is wrong")
def nothing_wrong(keeper: Keeper) -> None:
    assert keeper.findings() == []


@then(parsers.re(r"what is wrong between (?P<one>\S+) and (?P<other>\S+) is listed as accepted"))
def listed_accepted(keeper: Keeper, one: str, other: str) -> None:
    answer = keeper.answer()
    assert any({one, other} <= set(each["subjects"]) for each in answer["accepted"])
    dangers = [each["reason"]["subjects"] for each in answer["now"] if each["reason"]["level"] == "danger"]
    assert not any({one, other} <= set(subjects) for subjects in dangers)
    assert "accepted" in keeper.last.flat.lower()


@then(parsers.re(r'I read "(?P<text>(?:(?!" before ").)*)"'))
def i_read(keeper: Keeper, text: str) -> None:
    assert text.lower() in keeper.last.flat.lower()


@then(parsers.parse('I do not read "{text}"'))
def i_do_not_read(keeper: Keeper, text: str) -> None:
    assert text.lower() not in keeper.last.flat.lower()


@then(parsers.re(r'I read "(?P<first>[^"]+)" before "(?P<second>[^"]+)"'))
def i_read_before(keeper: Keeper, first: str, second: str) -> None:
    shown = keeper.last.flat
    assert shown.index(first) < shown.index(second)


@then("the first thing after the name is a caution")
def caution_first(keeper: Keeper) -> None:
    lines = [line for line in keeper.last.out.splitlines() if line.strip()]
    assert lines[1].startswith("CAUTION")


@then(parsers.parse("no line is wider than {width:d} columns"))
def no_wider(keeper: Keeper, width: int) -> None:
    assert keeper.last.out
    assert [line for line in keeper.last.text.splitlines() if len(line) > width] == []


@then("the same answer can be had as data, with its edition")
def as_data(keeper: Keeper) -> None:
    answer = keeper.answer()
    assert answer["edition"] == 1
    assert answer["question"] == "where"
    assert all(place["place"] in keeper.last.out for place in answer["places"] if place["word"] != "NO")


@then("both answers are alike to the letter")
def alike(keeper: Keeper) -> None:
    first, second = keeper.printed[-2:]
    assert first.out == second.out


@then("no colour codes are printed")
def no_codes(keeper: Keeper) -> None:
    assert "\x1b" not in keeper.last.text


@then(parsers.parse("the card is the one of {name}"))
def card_is(keeper: Keeper, name: str) -> None:
    assert keeper.answer()["card"] == name


@then(parsers.parse("I am told that {name} is not known"))
def not_known(keeper: Keeper, name: str) -> None:
    assert name in keeper.last.err
    assert re.search(r"do not know|no card|not known", keeper.last.flat)


@then(parsers.parse("a problem is shown at line {number:d}"))
def problem_at(keeper: Keeper, number: int) -> None:
    assert re.search(rf"(tank\.yaml|house\.rules):{number}\b", keeper.last.err), keeper.last.err


EXITS = {
    "one that found nothing to change": 0,
    "one that found something": 1,
    "one that could not use what I gave": 2,
}


@then(parsers.parse("the program ends as {how}"))
def ends_as(keeper: Keeper, how: str) -> None:
    assert keeper.last.code == EXITS[how], keeper.last.text
