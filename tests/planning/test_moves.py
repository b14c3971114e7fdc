"""Moves an audit suggests: each a yes where it is asked about, and all of them together."""

from __future__ import annotations

from pathlib import Path
from shutil import copytree

from advisor.api import Session, move, open_tank
from advisor.model.results import Word
from advisor.planning.moves import moves_together
from tests.planning.tanks import GOOD, STANDING, coral, opened, spot
from tests.properties.demo import FOLDER, ON

DARK = "light: {value: 4 PAR, error: 1 PAR, on: 2026-10-28, by: instrument}, ground: rock"
SAYS_YES = {Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL, Word.YES_BUT}


def in_the_dark(folder: Path, more_spots: str) -> Session:
    """Return a tank with two corals that starve, and some free spots."""
    spots = spot("cave-1", what=DARK) + spot("cave-2", what=DARK) + more_spots
    corals = coral("torch-1", "torch", f"spot: cave-1, {STANDING}") + coral(
        "candy-1", "candy cane", f"spot: cave-2, {STANDING}"
    )
    return opened(folder, spots=spots, corals=corals, months=1)


def far_from(*names: str) -> str:
    """Return that these stand far away."""
    return f"gaps: {{{', '.join(f'{name}: 90 cm' for name in names)}}}"


def test_one_place_goes_to_one_animal(tmp_path: Path) -> None:
    session = in_the_dark(tmp_path, spot("shelf", far_from("torch-1", "candy-1")))
    found = moves_together(session._desk, ["torch-1", "candy-1"])
    assert list(found) == ["torch-1"]
    assert found["torch-1"].startswith("move torch-1 to shelf")


def test_a_move_into_what_only_a_house_line_keeps_quiet_says_so(tmp_path: Path) -> None:
    house = (
        'house\n  change torch light max from 250 PAR to 400 PAR because "mine stood in 350"\n'
        '  change torch light best from 80 to 150 PAR to 80 to 320 PAR because "mine stood in 320"\n'
    )
    spots = "".join(
        spot(name, what=GOOD.replace("115 PAR", f"{par} PAR")) for name, par in (("top", 700), ("ledge", 300))
    )
    corals = coral("torch-1", "torch", f"spot: top, {STANDING}")
    session = opened(tmp_path, spots=spots, corals=corals, house=house, months=1)
    told = moves_together(session._desk, ["torch-1"])["torch-1"]
    quiet = (
        "only your house line (torch light max from 250 PAR to 400 PAR) "
        "keeps the danger not-too-bright quiet there"
    )
    assert told.startswith("move torch-1 to ledge")
    assert told.endswith(f", but {quiet}")
    cures = session.why("torch-1").cures
    assert {quiet in cure.changes for cure in cures} == {True}
    assert {cure.text.split()[0] for cure in cures} == {"put", "shade"}


def test_a_move_reckons_with_those_before_it(tmp_path: Path) -> None:
    """Each of two spots is good alone; they are 16 cm apart, and a torch reaches further."""
    far = far_from("torch-1", "candy-1")
    shelves = spot("shelf-1", f'at: "20, 20, 20 cm", {far}') + spot("shelf-2", f'at: "36, 20, 20 cm", {far}')
    session = in_the_dark(tmp_path, shelves)
    places = {place.place: place.word for place in session.where("candy-1").places}
    assert {places["shelf-1"], places["shelf-2"]} <= SAYS_YES
    assert list(moves_together(session._desk, ["torch-1", "candy-1"])) == ["torch-1"]


def test_the_next_goes_where_it_is_a_yes_after_the_first(tmp_path: Path) -> None:
    far = far_from("torch-1", "candy-1")
    spots = (("shelf-1", 20), ("shelf-2", 36), ("shelf-3", 140))
    shelves = "".join(spot(name, f'at: "{x}, 20, 20 cm", {far}') for name, x in spots)
    found = moves_together(in_the_dark(tmp_path, shelves)._desk, ["torch-1", "candy-1"])
    assert found["torch-1"].startswith("move torch-1 to shelf-1")
    assert found["candy-1"].startswith("move candy-1 to shelf-3")


def test_in_the_lagoon_every_move_is_a_yes_of_where_and_together_they_harm_nobody(tmp_path: Path) -> None:
    folder = tmp_path / "lagoon"
    copytree(FOLDER, folder)
    session = open_tank(folder, on=ON)
    answer = session.audit()
    assert answer.moves
    for text in answer.moves:
        _, animal, _, place, *_ = text.replace(",", "").replace(";", "").split()
        found = next(each for each in session.where(animal).places if each.place == place)
        assert found.word in SAYS_YES
        move(folder, animal, place, on=ON)
    after = open_tank(folder, on=ON).audit()
    before = {finding.reason.id for finding in answer.now if finding.reason.level == "danger"}
    then = {finding.reason.id for finding in after.now if finding.reason.level == "danger"}
    assert then < before
    assert set(answer.nowhere) | {text.split()[1] for text in answer.moves} == set(answer.move_first)
