"""What a keeper asks and does."""

from __future__ import annotations

from pytest_bdd import parsers, when

from tests.behaviour.keeper import DAY, GOOD_TANK, GOOD_WATER, Keeper
from tests.behaviour.steps_told import write_house


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
