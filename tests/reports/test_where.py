"""The answer to "where should it go?", by eye and by word."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len

from advisor.model.results import PlaceAnswer, Verdict, WhereAnswer, Word
from advisor.reports.printer import Look, render
from advisor.reports.where import where_page
from tests.reports import samples

GOLDEN = Path(__file__).parent / "golden"
ANSWERS = {"torch": samples.where_torch(), "candy": samples.where_candy(), "many": samples.where_many()}


@pytest.mark.parametrize("name", ANSWERS)
def test_it_reads_as_it_was_approved(name: str) -> None:
    approved = (GOLDEN / f"where-{name}.txt").read_text(encoding="utf-8")
    assert render(where_page(ANSWERS[name])) == approved


@pytest.mark.parametrize("name", ANSWERS)
@pytest.mark.parametrize("level", range(5))
@pytest.mark.parametrize("width", [44, 60, 80])
def test_nothing_is_wider_than_the_screen(name: str, level: int, width: int) -> None:
    shown = render(where_page(ANSWERS[name], level), Look(width=width))
    assert max(map(cell_len, shown.splitlines())) <= width


def test_a_keeper_reads_no_language_words() -> None:
    for answer in ANSWERS.values():
        for level in (0, 1):
            shown = render(where_page(answer, level)).lower()
            assert not {"danger", "undecided", "margin", "keep-clear-of-stingers("} & set(shown.split())


def test_level_zero_is_the_verdict_and_the_caution() -> None:
    assert render(where_page(samples.where_torch(), 0)).splitlines() == [
        "torch-2   YES: right-terrace, and 1 more place that would do",
        "CAUTION   Mild sting to thin skin: gloves. At night it reaches up to 25 cm.",
    ]
    assert render(where_page(samples.where_candy(), 0)) == "candy-1   LIKELY: mid-left. Tonight: shelf-low\n"


def with_gate(verdict: Verdict, level: str = "danger") -> WhereAnswer:
    """The torch in a tank whose water is asked about."""
    gate = samples.ALKALINITY.model_copy(update={"verdict": verdict, "level": level})
    return samples.where_torch().model_copy(update={"gates": (gate,)})


@pytest.mark.parametrize(
    ("verdict", "label", "when"),
    [
        (Verdict.FAILS, "FIX FIRST", "only when that is fixed"),
        (Verdict.UNDECIDED, "TEST FIRST", "only if that test is good"),
    ],
)
def test_a_danger_of_the_whole_tank_stands_before_every_yes(verdict: Verdict, label: str, when: str) -> None:
    shown = " ".join(render(where_page(with_gate(verdict), 0)).split())
    assert shown.startswith(label)
    assert f"torch-2 YES, {when}: right-terrace, and 1 more place that would do CAUTION" in shown
    told = render(where_page(with_gate(verdict)))
    assert f"{when}: on right-terrace" in " ".join(told.split())
    milder = render(where_page(with_gate(verdict, "warning"), 0))
    assert label not in milder
    assert when not in milder


def no_place(word: Word = Word.NO) -> WhereAnswer:
    bad = PlaceAnswer(place="A3", name="", word=word, rank=1, reasons=(samples.STUNG,))
    return samples.where_torch().model_copy(
        update={"places": (bad,), "tonight": None, "tonight_note": "a bowl"}
    )


def test_a_no_everywhere_shows_the_least_bad_and_tonight() -> None:
    shown = render(where_page(no_place()))
    assert "TONIGHT   A bowl." in shown
    assert "FOR GOOD  nowhere in this tank as it is now." in shown
    assert "1 A3" in shown
    assert render(where_page(no_place(), 0)).startswith("torch-2   NO place here for good")


def test_a_tank_without_places_is_answered_too() -> None:
    empty = no_place().model_copy(update={"places": (), "no_counts": ()})
    assert "FOR GOOD  nowhere in this tank as it is now." in render(where_page(empty))


def test_tonight_and_for_good_may_differ() -> None:
    answer = samples.where_torch().model_copy(update={"tonight": samples.SHELF_LOW})
    shown = render(where_page(answer))
    assert "TONIGHT   shelf-low. Wedge it, no glue. Lights off." in shown
    assert "FOR GOOD  on right-terrace. Wedge it, no glue for 7-14 days." in shown


def test_places_that_share_a_rank_are_marked() -> None:
    second = samples.LEFT_LEDGE.model_copy(update={"rank": 1})
    answer = samples.where_torch().model_copy(update={"places": (samples.RIGHT_TERRACE, second)})
    assert "2= left-ledge" in render(where_page(answer))


def test_all_places_come_at_level_four() -> None:
    shown = render(where_page(samples.where_many(), 4))
    assert all(place.place in shown for place in samples.where_many().places)


def test_a_name_of_its_own_and_harm_to_others_are_told() -> None:
    place = samples.LEFT_LEDGE.model_copy(update={"name": "the ledge", "changes": ("zoa-2 loses its light",)})
    answer = samples.where_torch().model_copy(update={"places": (samples.RIGHT_TERRACE, place)})
    shown = render(where_page(answer))
    assert "YES, SLOWLY  (the ledge)" in shown
    assert "zoa-2 loses its light" in shown


def test_without_a_free_spot_it_says_how_to_tell_of_one() -> None:
    none = no_place().model_copy(update={"places": ()})
    assert "Tell of another: advisor tank add spot NAME" in render(where_page(none))
    told = none.model_copy(update={"tonight_note": "No spot is told yet (advisor tank add spot NAME)"})
    assert render(where_page(told)).count("advisor tank add spot") == 1
