"""What is in the files afterwards."""

from __future__ import annotations

import json
import re

from pytest_bdd import parsers, then

from tests.behaviour.keeper import DAY, Keeper


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
