"""Lists of entries and their ids."""

from __future__ import annotations

from collections.abc import Callable

from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


def ids(folder: Folder) -> tuple[list[str], list[str]]:
    tank = folder.tank
    return [s.id for s in tank.spots], [a.id for a in tank.animals]


def test_a_section_is_a_list_or_a_mapping_of_ids(tank_of: Make) -> None:
    listed = tank_of("spots:\n  - {id: a, holds: 2}\n  - id: b\ncorals:\n  - {id: t, is: torch}\n")
    keyed = tank_of("spots:\n  a: {holds: 2}\n  b:\ncorals:\n  t: {is: torch}\n")
    assert ids(listed) == ids(keyed) == (["a", "b"], ["t"])
    assert keyed.tank.spots[0].holds == 2


def test_a_name_alone_is_an_entry(tank_of: Make) -> None:
    assert ids(tank_of("spots: [left ledge, shelf]\n".replace("left ledge", "left-ledge"))) == (
        ["left-ledge", "shelf"],
        [],
    )


def test_ids_are_made_of_names(tank_of: Make) -> None:
    tank = tank_of(
        "spots:\n  - name: The Big Ledge\ncorals:\n  - is: torch\n  - {is: hammer, name: Old One}\n"
    ).tank
    assert [(s.id, s.name) for s in tank.spots] == [("the-big-ledge", "The Big Ledge")]
    assert [(a.id, a.taxon, a.name) for a in tank.animals] == [
        ("torch-1", "torch", ""),
        ("hammer-1", "hammer", "Old One"),
    ]


def test_a_coral_may_be_referred_to_by_its_name(tank_of: Make) -> None:
    folder = tank_of(
        "spots:\n  - {id: s, name: Big Ledge, gaps: {old one: 3 cm}}\n"
        "corals:\n  - {is: hammer, name: Old One, spot: big ledge}\n"
    )
    assert folder.tank.animals[0].spot == "s"
    assert len(folder.said("gap", "s", "hammer-1")) == 1


def test_the_second_of_two_twins_is_read_on_and_shown_with_the_first(tank_of: Make) -> None:
    text = "spots:\n  - {id: a, holds: 2}\n  - {id: a-2}\n  - {id: a, holds: 3, lihgt: 3 PAR}\n"
    tank, (twins, slip) = tank_of(text).read()
    assert tank is not None
    assert [(s.id, s.holds) for s in tank.spots] == [("a", 2), ("a-2", 1), ("a-3", 3)]
    assert (twins.code, twins.related[0].span.line, twins.mend) == ("id-142", 2, "call one of them a-3")
    assert (slip.code, slip.mend) == ("key-121", "light")


def test_a_rock_may_be_called_like_a_spot(tank_of: Make) -> None:
    assert tank_of("rocks: [arch]\nspots:\n  - {id: arch, rock: arch}\n").problems == ()


def test_none_and_nothing_are_empty_sections(tank_of: Make) -> None:
    for text in ("", "none", "[]", "unknown"):
        assert ids(tank_of(f"name: t\nspots: {text}\ncorals: {text}\n")) == ([], [])
