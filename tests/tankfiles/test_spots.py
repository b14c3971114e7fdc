"""Rocks and spots."""

from __future__ import annotations

from collections.abc import Callable

from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]

EVERYTHING = """
name: t
glass: 90 x 60 x 48 cm
rocks: [arch]
corals:
  - {id: a, is: torch}
spots:
  - id: s
    name: the ledge
    place: left, back, high
    rock: arch
    extent: 10 cm
    holds: 3
    temporary: yes
    light: food falls straight down
    flow: {distance: 20 cm, seconds: [2, 2.1]}
    pattern: random
    ground: rock
    faces: tilted
    shelter: overhang
    ledge: yes
    islet: yes
    moat: 12 cm
    lifts out: no
    outlet distance: 45 cm
    in jet: no
    headroom: 20 cm
    hand reach: with-tool
    shelf light hours: 9 hours
    gaps: {a: 30 cm}
    up-flow: none
    down-flow: none
    above: none
    below: none
    divider: none
"""


def test_everything_a_keeper_can_say_of_a_spot_has_a_place(tank_of: Make) -> None:
    tank = tank_of(EVERYTHING).tank
    (spot,) = tank.spots
    assert (spot.rock, spot.extent_cm, spot.holds, spot.temporary) == ("arch", 10.0, 3, True)
    assert spot.box is not None
    assert spot.place == "left, back, high"
    assert {f.measure for f in tank.facts} == {
        "light", "flow", "pattern", "ground", "faces", "shelter", "ledge", "islet", "moat", "lifts-out",
        "outlet-distance", "in-jet", "headroom", "hand-reach", "shelf-light-hours", "gap", "up-flow",
        "down-flow",
        "above", "divider",
    }  # fmt: skip


def test_a_rock_and_what_it_touches(tank_of: Make) -> None:
    tank = tank_of(
        "rocks:\n  - {id: arch, lifts out: no, touches: [pile]}\n  - {id: pile, touches: none}\n"
        "  - {id: loose, lifts out: unknown}\n"
    ).tank
    assert [(r.id, r.lifts_out, r.touches) for r in tank.rocks] == [
        ("arch", False, ("pile",)),
        ("pile", None, ()),
        ("loose", None, None),
    ]


def test_a_spot_may_describe_its_rock_in_place(tank_of: Make) -> None:
    tank = tank_of("spots:\n  - {id: s, rock: {id: arch, lifts out: yes, touches: none}}\n").tank
    assert tank.spots[0].rock == "arch"
    assert [(r.id, r.lifts_out, r.touches) for r in tank.rocks] == [("arch", True, ())]


def test_a_spot_holds_one_unless_told(tank_of: Make) -> None:
    assert tank_of("spots: [a]\n").tank.spots[0].holds == 1
    for text in ("0", "-1", "2.5", "some"):
        assert tank_of(f"spots:\n  - {{id: a, holds: {text}}}\n").codes == ["value-131"]


def test_a_rock_that_does_not_exist_is_shown_at_the_spot(tank_of: Make) -> None:
    (problem,) = tank_of("rocks: [arch]\nspots:\n  - {id: s, rock: pile}\n").problems
    assert problem.code == "id-143"
    assert problem.span is not None
    assert problem.span.line == 3


def test_an_unknown_key_of_a_rock_is_noted(tank_of: Make) -> None:
    (problem,) = tank_of("rocks:\n  - {id: arch, lift out: no}\n").problems
    assert (problem.code, problem.mend) == ("key-121", "lifts out")
