"""What a set of rules says of examples, of a tank and of places."""

from __future__ import annotations

from pathlib import Path

from advisor.model.results import Value, Verdict
from advisor.rulework.desks import tank_read
from advisor.rulework.outcomes import (
    Asked,
    called_as_after,
    in_words,
    of_examples,
    of_places,
    of_tank,
    waiting,
    without_other_rules,
)
from advisor.session.opening import shipped
from tests.rules.days import DAY
from tests.rulework.lints import library_of

EXAMPLE = """example "bright and dim" for light-enough
  given a-1 is animal with light-min = 50 PAR
        a-2 is animal with light-min = 50 PAR
        light(a-1.spot) = 80 PAR
        light(a-2.spot) = 20 PAR
  then  a-1 holds
        a-2 fails
"""
TANK = """name: small
glass: 100 x 50 x 50 cm
spots:
  - {id: ledge, light: {value: 120 PAR, error: 5 PAR}, flow: 9 cm/s}
  - {id: floor, light: {value: 20 PAR, error: 2 PAR}, flow: 9 cm/s}
corals:
  - {id: torch-1, is: torch, spot: ledge, size: 8 cm, placed: 2026-01-01}
  - {id: candy-1, is: candy cane, size: 5 cm}
"""


def test_an_outcome_of_an_example_has_its_margin_and_its_words() -> None:
    library = library_of(EXAMPLE)
    found = of_examples(library, library.examples)
    fails = Asked("example", "light-enough", ("bright and dim", "a-2"))
    side, sentence = found.told(fails)
    assert (side.answer, side.margin_steps, side.told, sentence) == ("fails", -6.0, "fails by 30 PAR", "")
    assert found.levels[fails] == "warning"
    assert of_examples(library, library.examples, ["keep-clear"]).sides == {}


def test_what_was_never_asked_is_an_empty_answer() -> None:
    side, sentence = of_examples(library_of(""), ()).told(Asked("example", "x", ()))
    assert (side.answer, side.told, sentence) == ("", "", "")


def test_amounts_in_words() -> None:
    assert in_words(Verdict.HOLDS, Value(best=2.0, unit="cm"), "", "") == "holds by 2 cm"
    assert in_words(Verdict.FAILS, Value(best=-0.123456, unit="cm"), "", "") == "fails by 0.123 cm"
    assert in_words(Verdict.UNDECIDED, None, "missing", "yes") == "undecided (missing), leans yes"
    assert in_words(Verdict.EXCUSED, Value(best=2.0, unit="cm"), "", "") == "excused"


def test_a_tank_is_asked_by_every_rule_or_by_some(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text(TANK, encoding="utf-8")
    library = shipped()
    tank = tank_read(tmp_path, library)
    every = of_tank(tank, library, DAY)
    some = of_tank(tank, library, DAY, ["not-too-bright"])
    asked = Asked("tank", "not-too-bright", ("torch-1",), "small")
    assert {each.rule for each in some.sides} == {"not-too-bright"}
    assert some.sides[asked] == every.sides[asked]
    side, sentence = every.told(asked)
    assert side.told == "holds by 130 PAR"
    assert sentence.startswith("torch-1 would stand in 120")
    assert every.told(asked, full=False)[1] == ""


def test_places_of_those_that_wait(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text(
        TANK.replace("spot: ledge, ", "at: '50, 25, 20 cm', "), encoding="utf-8"
    )
    library = shipped()
    tank = tank_read(tmp_path, library)
    assert waiting(tank) == ("candy-1",)
    found = of_places(tank, library, DAY)
    words = {asked.subjects[1]: side.answer for asked, side in found.sides.items() if asked.about == "place"}
    assert words.keys() == {"ledge", "floor"}
    floor = found.sides[Asked("place", "", ("candy-1", "floor"), "small")]
    assert "enough-light" in floor.reasons
    assert found.sides[Asked("first", "", ("candy-1",), "small")].answer in words
    assert of_places(tank, library, DAY, []).sides == {}


def test_only_the_named_rules_are_left() -> None:
    library = library_of("")
    assert without_other_rules(library, None) is library
    assert list(without_other_rules(library, ["light-enough"]).rules) == ["light-enough"]


def test_answers_of_a_renamed_rule_stand_under_its_new_name() -> None:
    library = library_of(EXAMPLE)
    found = called_as_after(of_examples(library, library.examples), {"light-enough": "bright-enough"})
    assert {asked.rule for asked in found.sides} == {"bright-enough"}
    assert (
        found.told(Asked("example", "bright-enough", ("bright and dim", "a-1")))[0].told == "holds by 30 PAR"
    )
