"""The steps the scenarios in features/ are made of. Every one goes through the command line."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from pytest_bdd import given, parsers, then, when

from tests.behaviour.keeper import DAY, GOOD_TANK, GOOD_WATER, Keeper, middle, rows_of

Table = Sequence[Sequence[str]]


@pytest.fixture
def keeper(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Keeper:
    """A keeper with nothing yet, in an empty folder."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return Keeper(tmp_path, capsys)


# --- given -------------------------------------------------------------------


@given("a tank in good order")
def good_tank(keeper: Keeper) -> None:
    keeper.header = list(GOOD_TANK)


@given("these places")
def these_places(keeper: Keeper, datatable: Table) -> None:
    keeper.places += rows_of(datatable)


@given("these corals")
def these_corals(keeper: Keeper, datatable: Table) -> None:
    keeper.corals += rows_of(datatable)


@given("these distances by tape")
def these_gaps(keeper: Keeper, datatable: Table) -> None:
    keeper.gaps += rows_of(datatable)


@given("the water was tested as follows")
def water(keeper: Keeper, datatable: Table) -> None:
    (row,) = rows_of(datatable)
    keeper.water = "{" + ", ".join(f"{name}: {value}" for name, value in row.items()) + "}"


@given("my tank file is")
def tank_file(keeper: Keeper, docstring: str) -> None:
    keeper.raw = docstring + "\n"


@given("my house rules are")
def house_rules(keeper: Keeper, docstring: str) -> None:
    keeper.house = docstring + "\n"


@given("a second house file of mine is")
def second_house_file(keeper: Keeper, docstring: str) -> None:
    keeper.more_house = docstring + "\n"


@given(parsers.parse('I accept what is wrong between {one} and {other} because "{why}"'))
def accept(keeper: Keeper, one: str, other: str, why: str) -> None:
    lines = [
        f'accept {reason["rule"]} for {", ".join(reason["subjects"])} because "{why}"'
        for reason in found_between(keeper, one, other)
    ]
    write_house(keeper, lines)


@given(parsers.parse('I accepted what is wrong between {one} and {other} until {day} because "{why}"'))
def accept_until(keeper: Keeper, one: str, other: str, day: str, why: str) -> None:
    lines = [
        re.sub(r" on \S+", " on 2026-09-01", re.sub(r"until \S+", f"until {day}", reason["accept"]))
        for reason in found_between(keeper, one, other)
    ]
    write_house(keeper, [line.replace("your reason", why) for line in lines])


def found_between(keeper: Keeper, one: str, other: str) -> list[dict[str, Any]]:
    """Return what an audit finds wrong between two, each once; it is read in full."""
    keeper.ask("audit", "--level", "2")
    found = {
        (each["reason"]["rule"], tuple(each["reason"]["subjects"])): each["reason"]
        for each in keeper.findings()
        if {one, other} <= set(each["reason"]["subjects"]) and each["reason"]["accept"]
    }
    assert found
    return [found[key] for key in sorted(found)]


def write_house(keeper: Keeper, lines: Sequence[str]) -> None:
    """Write a house file of these lines beside the tank."""
    text = "edition 1\n\nhouse\n" + "\n".join(f"  {line}" for line in lines) + "\n"
    (keeper.folder / "house.rules").write_text(text, encoding="utf-8")


# --- when --------------------------------------------------------------------


@when(parsers.re(r"I ask where (?P<coral>\S+) should go"))
def ask_where(keeper: Keeper, coral: str) -> None:
    keeper.ask("where", coral)


@when(parsers.re(r"I ask where an? (?P<coral>.+) from the shop should go"))
def ask_where_new(keeper: Keeper, coral: str) -> None:
    keeper.ask("where", coral)


@when(parsers.parse("I ask in detail where {coral} should go"))
def ask_where_deep(keeper: Keeper, coral: str) -> None:
    keeper.ask("where", coral, "--level", "4")


@when(parsers.parse("I ask briefly where {coral} should go"))
def ask_where_brief(keeper: Keeper, coral: str) -> None:
    keeper.ask("where", coral, "--level", "0")


@when(parsers.parse("I ask why {coral} may stand at {place}"))
def ask_why(keeper: Keeper, coral: str, place: str) -> None:
    keeper.ask("why", coral, place)
    keeper.place = place


@when(parsers.parse("I ask why {coral} may not stand at {place}"))
def ask_why_not(keeper: Keeper, coral: str, place: str) -> None:
    keeper.ask("why-not", coral, place)
    keeper.place = place


@when(parsers.parse("I ask at level {level:d} why {coral} may not stand at {place}"))
def ask_why_not_at(keeper: Keeper, level: int, coral: str, place: str) -> None:
    keeper.ask("why-not", coral, place, "--level", str(level))


@when("I ask for an audit")
def ask_audit(keeper: Keeper) -> None:
    keeper.ask("audit")


@when("I ask for an audit in an empty folder")
def ask_audit_nowhere(keeper: Keeper) -> None:
    keeper.run("audit", "--on", DAY)


@when(parsers.parse("I ask for the card of {name} as my rules have it"))
def ask_own_card(keeper: Keeper, name: str) -> None:
    keeper.ask("card", name)


@when(parsers.parse("I ask for the card of {name}"))
def ask_card(keeper: Keeper, name: str) -> None:
    keeper.write()
    keeper.run("card", name)


@when("I ask for an audit of this tank and a sound one")
def ask_audit_of_two(keeper: Keeper) -> None:
    keeper.write()
    sound = keeper.home / "sound"
    sound.mkdir()
    text = "\n".join(GOOD_TANK).replace("scenario tank", "sound tank")
    (sound / "tank.yaml").write_text(f"{text}\nwater: [{GOOD_WATER}]\n", encoding="utf-8")
    keeper.run("audit", str(keeper.folder), str(sound), "--on", DAY)


@when(parsers.parse("I open the first reason why {coral} may not stand at {place}"))
def open_first(keeper: Keeper, coral: str, place: str) -> None:
    keeper.ask("why-not", coral, place, "--open", "1")


@when(parsers.parse("I ask what {word} means"))
def ask_meaning(keeper: Keeper, word: str) -> None:
    keeper.run("explain", word)


@when(parsers.parse('I ask "{words}"'))
def ask_anything(keeper: Keeper, words: str) -> None:
    keeper.ask(*words.split())


@when(parsers.parse("I ask on {day} why {coral} may not stand at {place}"))
def ask_why_not_on(keeper: Keeper, day: str, coral: str, place: str) -> None:
    keeper.run("why-not", coral, place, "--tank", keeper.folder.name, "--on", day)


@when(
    parsers.parse(
        'I copy what accepts the danger between {one} and {other} out of the audit, because "{why}"'
    )
)
def copy_accept(keeper: Keeper, one: str, other: str, why: str) -> None:
    """What is copied is what stands on the screen, line by line."""
    keeper.ask("audit", "--level", "2")
    lines = keeper.last.out.splitlines()
    start = next(
        at
        for at, line in enumerate(lines)
        if line.split()[:4] == ["to", "paste", "accept", "keep-clear-of-stingers"]
        and one in "".join(lines[at : at + 3])
        and other in "".join(lines[at : at + 3])
    )
    copied = [lines[start].replace("to paste", "", 1)]
    for line in lines[start + 1 :]:
        if not line.startswith(" " * 15):
            break
        copied.append(line)
    write_house(keeper, ["\n".join(copied).replace("your reason", why)])


@when(parsers.parse('I change "{old}" into "{new}" in my tank file'))
def change_tank_file(keeper: Keeper, old: str, new: str) -> None:
    text = keeper.tank_file.read_text(encoding="utf-8")
    assert old in text
    keeper.tank_file.write_text(text.replace(old, new), encoding="utf-8")


@when("I ask for a check of the rules of my tank")
def ask_own_rules_check(keeper: Keeper) -> None:
    keeper.ask("rules", "check")


@when(parsers.parse("I tell that the {measure} of {place} is {value}"))
def tell_reading(keeper: Keeper, measure: str, place: str, value: str) -> None:
    keeper.ask("tank", "add", "reading", place, measure, value)


@when("I ask the same again")
def ask_again(keeper: Keeper) -> None:
    keeper.run(*keeper.last.argv)


@when("I ask for a check of my tank")
def ask_check(keeper: Keeper) -> None:
    keeper.ask("tank", "check")


@when("I ask for a check of the rules")
def ask_rules_check(keeper: Keeper) -> None:
    keeper.run("rules", "check")


@when("I ask for a test of the rules")
def ask_rules_test(keeper: Keeper) -> None:
    keeper.run("rules", "test")


@when(parsers.parse("I make a new tank called {name} from this pasted list"))
def make_tank(keeper: Keeper, name: str, docstring: str) -> None:
    pasted = keeper.home / "pasted.txt"
    pasted.write_text(docstring + "\n", encoding="utf-8")
    keeper.run("tank", "new", str(keeper.home / name), "--yes", "--corals", str(pasted), "--on", DAY)


@when(parsers.parse("I add a {coral} called {name} of {size:d} cm"))
def add_coral(keeper: Keeper, coral: str, name: str, size: int) -> None:
    keeper.ask("tank", "add", "coral", coral, "--id", name, "--size", f"{size} cm")


@when(parsers.parse("I move {coral} to {place}"))
def move_coral(keeper: Keeper, coral: str, place: str) -> None:
    keeper.ask("tank", "move", coral, place)


# --- then: a place -----------------------------------------------------------


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


# --- then: what is asked of me -----------------------------------------------


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


# --- then: an audit ----------------------------------------------------------


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


# --- then: what is on the screen ---------------------------------------------


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


# --- then: the files ---------------------------------------------------------


@then(parsers.parse("I have a tank folder {name}"))
def have_folder(keeper: Keeper, name: str) -> None:
    assert (keeper.home / name / "tank.yaml").is_file(), keeper.last.text


@then("a check of that folder finds no fault")
def that_folder_is_sound(keeper: Keeper) -> None:
    (found,) = [path.parent for path in keeper.home.glob("*/tank.yaml")]
    assert keeper.run("tank", "check", "--tank", str(found), "--on", DAY).code == 0, keeper.last.text


@then(parsers.parse("its tank file names {name}"))
def names(keeper: Keeper, name: str) -> None:
    (found,) = keeper.home.glob("*/tank.yaml")
    assert name in found.read_text(encoding="utf-8")


@then(parsers.re(r'my tank file (?:still|now) says "(?P<text>.+)"'))
def file_says(keeper: Keeper, text: str) -> None:
    assert text in keeper.tank_file.read_text(encoding="utf-8"), keeper.last.text


@then("my tank file is as it was")
def file_unchanged(keeper: Keeper) -> None:
    assert keeper.tank_file.read_text(encoding="utf-8") == keeper.raw


@then("there is no journal")
def no_journal(keeper: Keeper) -> None:
    assert not (keeper.folder / "journal.jsonl").exists()


def journal(keeper: Keeper) -> list[dict[str, object]]:
    """Return the lines of the journal."""
    text = (keeper.folder / "journal.jsonl").read_text(encoding="utf-8")
    return [json.loads(line) for line in text.splitlines()]


@then("the journal has one more line")
def one_more(keeper: Keeper) -> None:
    assert len(journal(keeper)) == 1


@then(parsers.parse("the journal tells of {coral} moved to {place}"))
def journal_tells(keeper: Keeper, coral: str, place: str) -> None:
    told = [(line["kind"], line["subject"], line["spot"]) for line in journal(keeper)]
    assert ("moved", coral, place) in told


@then("a check of my tank finds no fault")
def my_tank_is_sound(keeper: Keeper) -> None:
    assert keeper.ask("tank", "check").code == 0, keeper.last.text


@then(parsers.parse("{coral} stands at {place}"))
def stands_at(keeper: Keeper, coral: str, place: str) -> None:
    text = keeper.tank_file.read_text(encoding="utf-8")
    entry = text[text.index(f"id: {coral}") :]
    assert re.search(rf"spot: {place}\b", entry)
