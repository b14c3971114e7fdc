"""What is said of places, and what is asked of the keeper."""

from __future__ import annotations

import re

from pytest_bdd import parsers, then

from tests.behaviour.keeper import Keeper, Table, middle


@then(parsers.parse("the answer for {place} is not {word}"))
def place_is_not(keeper: Keeper, place: str, word: str) -> None:
    assert keeper.place_answer(place)["word"] != word


@then(parsers.re(r"the answer for (?P<place>\S+) is (?P<word>(?!not )[A-Z, ]+)"))
def place_is(keeper: Keeper, place: str, word: str) -> None:
    assert keeper.place_answer(place)["word"] == word


@then(parsers.parse("{place} will do for tonight"))
def tonight(keeper: Keeper, place: str) -> None:
    found = keeper.answer()["tonight"]
    assert found is not None
    assert found["place"] == place
    assert "TONIGHT" in keeper.last.out or "PUT IT" in keeper.last.out


def reasons_at(keeper: Keeper, place: str) -> list[dict[str, object]]:
    """Return the reasons of one place of the last answer."""
    return list(keeper.place_answer(place)["reasons"])


WANTED = r"(?:(?P<most>at most) )?(?P<wanted>[\d.]+) (?P<unit>\S+?)(?: or more)? is wanted"
HERE = r"(?P<here>[\d.]+) \S+ and "


@then(parsers.re(r"a reason (?:there|at (?P<place>\S+)) is that (?P<what>light|flow) is " + HERE + WANTED))
def reason_of_place(
    keeper: Keeper, place: str | None, what: str, here: str, most: str | None, wanted: str
) -> None:
    key = "wanted_high" if most else "wanted_low"
    seen = [
        (each["quantity"], middle(each["here"]), middle(each[key]))
        for each in keeper.place_answer(place or keeper.place)["reasons"]
    ]
    assert (what, float(here), float(wanted)) in seen


@then(parsers.re(r"a reason there is that the gap to (?P<other>\S+) is about " + HERE + WANTED))
def reason_of_gap(keeper: Keeper, other: str, here: str, most: str | None, wanted: str) -> None:
    assert most is None
    found = [
        each
        for each in keeper.place_answer(keeper.place)["reasons"]
        if "gap" in each["quantity"] and other in each["subjects"]
    ]
    assert found, f"no reason about a gap to {other}"
    numbers = [(middle(each["here"]), middle(each["wanted_low"])) for each in found]
    assert any(
        near is not None and abs(near - float(here)) <= 1.0 and limit == float(wanted)
        for near, limit in numbers
    ), numbers
    assert f"gap to {other}" in keeper.last.flat


@then("I am told to leave it without glue at first")
def no_glue(keeper: Keeper) -> None:
    assert re.search(r"no glue|without glue|unglued", keeper.last.flat)


@then(parsers.parse("the light of {place} is taken to be between {low:d} PAR and {high:d} PAR"))
def vouched(keeper: Keeper, place: str, low: int, high: int) -> None:
    about = [each["here"] for each in keeper.place_answer(place)["reasons"] if each["quantity"] == "light"]
    assert (low, high) in [(here["low"], here["high"]) for here in about]


@then(parsers.parse("{first} comes before {second}"))
def comes_before(keeper: Keeper, first: str, second: str) -> None:
    order = [each["place"] for each in keeper.answer()["places"]]
    assert order.index(first) < order.index(second)


@then(parsers.parse("{place} is not offered"))
def not_offered(keeper: Keeper, place: str) -> None:
    assert place not in [each["place"] for each in keeper.answer()["places"]]
    assert "taken" in keeper.last.flat


@then("the places come in this order")
def order_of_places(keeper: Keeper, datatable: Table) -> None:
    wanted = [row[0] for row in datatable]
    assert [each["place"] for each in keeper.answer()["places"] if each["place"] in wanted] == wanted


@then(parsers.re(r"I am told of trouble to come between (?P<one>\S+) and (?P<other>\S+), with a date"))
def trouble_to_come(keeper: Keeper, one: str, other: str) -> None:
    dated = [each for place in keeper.answer()["places"] for each in place["reasons"] if each["until"]]
    assert any({one, other} & set(each["subjects"]) for each in dated)
    assert re.search(r"(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\w* 20\d\d", keeper.last.flat)


@then("I am told of no trouble to come")
def no_trouble(keeper: Keeper) -> None:
    assert [
        each["rule"] for place in keeper.answer()["places"] for each in place["reasons"] if each["until"]
    ] == []


@then("I am offered a change that would make it right")
def offered(keeper: Keeper) -> None:
    cures = keeper.answer()["cures"]
    assert cures
    assert all(each["makes"] != "NO" for each in cures)


def needs(keeper: Keeper) -> list[tuple[str, frozenset[str]]]:
    """Return every reading or look the last answer asks for, open reasons included."""
    answer = keeper.answer()
    found = list(answer.get("needs", ()))
    for place in answer.get("places", ()):
        found += [need for reason in place["reasons"] for need in reason["needs"]]
    return [(need["measure"], frozenset(need["subjects"])) for need in found]


@then(parsers.parse("I am asked for the {measure} of {place}"))
def asked_for(keeper: Keeper, measure: str, place: str) -> None:
    assert (measure, frozenset({place})) in needs(keeper)


@then(parsers.parse("I am asked for the gap between {one} and {other}"))
def asked_for_gap(keeper: Keeper, one: str, other: str) -> None:
    assert any(measure == "gap" and other in about for measure, about in needs(keeper))
    assert one in keeper.last.flat
