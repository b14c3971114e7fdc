"""Where a coral should go, asked of small tanks in which one thing matters."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.api import Session, open_tank
from advisor.errors import UnusableInput
from advisor.model.results import PlaceAnswer, Verdict, WhereAnswer, Word
from advisor.planning.tonight import speaks_against
from tests.planning.tanks import GOOD, STANDING, TORCH, WATER, coral, opened, spot, two_spots
from tests.properties.demo import FOLDER, ON


def at(answer: WhereAnswer, place: str) -> PlaceAnswer:
    """Return one place of an answer."""
    return next(found for found in answer.places if found.place == place)


def test_without_a_gap_it_is_not_known_yet_and_the_gap_is_asked_for(tmp_path: Path) -> None:
    hammer = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    answer = opened(tmp_path, spots=two_spots(""), corals=hammer + TORCH).where("torch-1")
    place = at(answer, "here")
    assert place.word is Word.NOT_KNOWN
    gaps = [reason for reason in place.reasons if reason.quantity == "gap to candy-1"]
    assert gaps
    assert all(reason.cause == "missing" for reason in gaps if reason.verdict is Verdict.UNDECIDED)
    asked = {need.measure for reason in place.reasons for need in reason.needs}
    assert "gap" in asked
    first = answer.needs[0]
    assert first.measure == "gap"
    assert "tape" in first.ask
    assert {"here", "candy-1"} <= set(first.ask.replace(",", " ").split())  # the torch is still in its bag
    assert first.command == 'advisor tank add reading here,candy-1 gap "…"'


@pytest.mark.parametrize(("gap", "word"), [("60 cm", Word.YES), ("8 cm", Word.NO)])
def test_with_a_gap_it_is_a_yes_or_a_no(tmp_path: Path, gap: str, word: Word) -> None:
    candy = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    answer = opened(tmp_path, spots=two_spots(f"gaps: {{candy-1: {gap}}}"), corals=candy + TORCH).where(
        "torch-1"
    )
    assert at(answer, "here").word is word
    if word is Word.NO:
        (worst, *_) = at(answer, "here").reasons
        assert (worst.level, worst.verdict) == ("danger", Verdict.FAILS)
        assert worst.here is not None
        assert worst.wanted_low is not None
        assert worst.here.best is not None
        assert worst.wanted_low.low is not None
        assert worst.here.best < worst.wanted_low.low
        assert answer.no_counts


def test_a_spot_is_fine_until_both_have_grown(tmp_path: Path) -> None:
    """29 cm hold today; with both edges growing they are used up within three years."""
    candy = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    session = opened(tmp_path, spots=two_spots("gaps: {candy-1: 32 cm}"), corals=candy + TORCH, months=36)
    place = at(session.where("torch-1"), "here")
    assert place.word is Word.YES_UNTIL
    (coming, *_) = [reason for reason in place.reasons if reason.until is not None]
    assert coming.level == "warning"
    assert coming.until is not None
    assert coming.until.expected is not None
    assert coming.until.earliest <= coming.until.expected
    assert coming.until.latest is None or coming.until.expected <= coming.until.latest
    assert coming.until.expected.year in (2027, 2028, 2029)


def test_a_newcomer_that_harms_a_neighbour_is_refused_though_the_neighbour_cannot_harm_it(
    tmp_path: Path,
) -> None:
    candy = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    answer = opened(tmp_path, spots=two_spots("gaps: {candy-1: 12 cm}"), corals=candy + TORCH).where(
        "torch-1"
    )
    place = at(answer, "here")
    assert place.word is Word.NO
    dangers = [
        reason for reason in place.reasons if reason.level == "danger" and reason.verdict is Verdict.FAILS
    ]
    assert dangers
    assert all(reason.subjects[0] == "torch-1" for reason in dangers)
    assert {"candy-1"} == {reason.subjects[1] for reason in dangers}


def test_with_no_free_spot_there_is_no_place_and_no_crash(tmp_path: Path) -> None:
    candy = coral("candy-1", "candy cane", f"spot: only, {STANDING}")
    answer = opened(tmp_path, spots=spot("only"), corals=candy + TORCH).where("torch-1")
    assert answer.places == ()
    assert answer.tonight is None
    assert answer.tonight_note
    assert answer.coral.id == "torch-1"
    assert answer.coral.title.lower().count("torch")


def test_with_no_free_spot_a_coral_not_yet_bought_is_still_answered_about(tmp_path: Path) -> None:
    candy = coral("candy-1", "candy cane", f"spot: only, {STANDING}")
    answer = opened(tmp_path, spots=spot("only"), corals=candy).where("torch")
    assert answer.places == ()
    assert answer.coral.not_in_tank
    assert answer.coral.id != "candy-1"
    assert answer.coral.size is None or answer.coral.size.best != 10


def test_in_an_empty_tank_a_suitable_spot_is_a_yes(tmp_path: Path) -> None:
    answer = opened(tmp_path, spots=spot("here")).where("torch")
    assert [(place.place, place.word) for place in answer.places] in (
        [("here", Word.YES)], [("here", Word.YES_SLOWLY)],
    )  # fmt: skip
    assert answer.coral.not_in_tank
    assert answer.tonight is not None


def test_a_tank_without_spots_says_that_none_is_free(tmp_path: Path) -> None:
    answer = opened(tmp_path).where("torch")
    assert answer.places == ()
    assert answer.tonight is None
    assert "no spot" in answer.tonight_note


def test_a_coral_not_in_the_tank_gets_an_id_of_its_own(tmp_path: Path) -> None:
    there = coral("torch", "torch", f"spot: there, {STANDING}")
    answer = opened(tmp_path, spots=two_spots("gaps: {torch: 90 cm}"), corals=there).where("hell fire torch")
    assert answer.coral.id != "torch"


def test_a_coral_nobody_knows_is_refused_with_the_nearest_names(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spot("here"), corals=TORCH)
    with pytest.raises(UnusableInput) as refused:
        session.where("torhc-1")
    (problem,) = refused.value.problems
    assert problem.code == "name-302"
    assert "torch" in problem.mend
    with pytest.raises(UnusableInput):
        session.where("")


def test_a_placed_coral_is_asked_about_without_itself_in_the_way(tmp_path: Path) -> None:
    """It is no neighbour of itself; of its own spot it is said how to ask."""
    torch = coral("torch-1", "torch", f"spot: here, {STANDING}")
    answer = opened(tmp_path, spots=spot("here") + spot("there"), corals=torch).where("torch-1")
    assert {place.place for place in answer.places} == {"there"}
    assert "it stands on here now: why torch-1" in answer.notes
    assert all("torch-1" not in reason.subjects[1:] for place in answer.places for reason in place.reasons)
    assert answer.tonight is None


def test_an_uncertain_species_is_as_safe_as_its_worst_card_only(tmp_path: Path) -> None:
    """What two cards disagree about stays open; nothing picks the kinder one."""
    candy = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
    session = opened(tmp_path, spots=two_spots("gaps: {candy-1: 14 cm}"), corals=candy)
    sure = at(session.where("torch"), "here")
    assert sure.word is Word.NO


def test_no_want_of_comfort_outranks_a_danger(tmp_path: Path) -> None:
    """The worse-lit spot is ranked first because the better-lit one is in reach of a stinger."""
    dim = GOOD.replace("115 PAR, error: 6", "60 PAR, error: 3")
    spots = (
        spot("fine", "gaps: {galaxy-1: 5 cm}") + spot("dim", "gaps: {galaxy-1: 120 cm}", dim) + spot("there")
    )
    galaxy = coral("galaxy-1", "galaxy coral", f"spot: there, {STANDING}")
    answer = opened(tmp_path, spots=spots, corals=galaxy).where("candy cane")
    assert [place.place for place in answer.places] == ["dim", "fine"]
    assert at(answer, "fine").word is Word.NO


def test_ranks_follow_the_order_and_reasons_stand_with_the_best_places(tmp_path: Path) -> None:
    spots = "".join(spot(f"p{index}") for index in range(6))
    answer = opened(tmp_path, spots=spots).where("torch")
    assert [place.place for place in answer.places] == [f"p{index}" for index in range(6)]
    assert {place.rank for place in answer.places} == {1}
    assert answer.places[0].reasons


def test_cautions_come_unasked_and_gates_first(tmp_path: Path) -> None:

    hot = WATER.replace("25.4 °C", "31 °C")
    answer = opened(tmp_path, spots=spot("here"), water=hot).where("palys")
    assert answer.cautions
    assert any(gate.verdict is Verdict.FAILS for gate in answer.gates)


SAYS_BUT = {Word.YES_BUT, Word.LIKELY_BUT}
PLAIN = {Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL, Word.LIKELY, Word.LIKELY_UNTIL}


@pytest.fixture(scope="module")
def lagoon() -> Session:
    """The tank that shows most of what can be said."""
    return open_tank(FOLDER, on=ON)


def test_a_word_without_a_but_stands_above_nothing_that_fails_or_leans_to_failing(lagoon: Session) -> None:
    places = [place for place in lagoon.where("leather-1").places if place.reasons]
    places += [
        lagoon.why(animal, spot).place for animal, spot in (("crust-2", "arch-shelf"), ("candy-1", "rack"))
    ]
    against = {place.place: any(map(speaks_against, place.reasons)) for place in places}
    assert not [place.place for place in places if place.word in PLAIN and against[place.place]]
    assert [place.place for place in places if place.word in SAYS_BUT and against[place.place]]


@pytest.mark.parametrize(
    ("typed", "meant"), [("torch-9", "torch-1"), ("torhc-1", "torch-1"), ("hammer-2", "without a number")]
)
def test_a_slip_in_an_id_is_not_answered_as_a_new_coral(tmp_path: Path, typed: str, meant: str) -> None:
    session = opened(tmp_path, spots=spot("here"), corals=TORCH)
    with pytest.raises(UnusableInput) as raised:
        session.where(typed)
    (problem,) = raised.value.problems
    assert problem.code == "name-302"
    assert meant in problem.mend


def test_an_id_may_be_typed_in_capitals(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spot("here"), corals=TORCH)
    assert session.why("Torch-1", "HERE").coral.id == "torch-1"


def test_a_name_of_a_coral_is_a_coral_from_the_shop(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=spot("here"), corals=TORCH)
    assert session.where("torch").coral.not_in_tank
