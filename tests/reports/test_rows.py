"""The rows behind a yes or no."""

from __future__ import annotations

import pytest

from advisor.model.results import Comfort, Ground, PlaceAnswer, Reason, Value, Verdict, Word
from advisor.reports.page import Tone
from advisor.reports.rows import (
    best_bands,
    deciding,
    echo_text,
    folded,
    grounds_of,
    here_texts,
    how_text,
    limits_text,
    named_text,
    reason_rows,
    reason_tone,
    remark,
    row_label,
    support_text,
    warns_now,
    word_text,
    word_tone,
)
from tests.reports import samples


def place(word: Word, *reasons: Reason) -> PlaceAnswer:
    return PlaceAnswer(place="A3", name="", word=word, rank=1, reasons=reasons)


def test_a_yes_until_names_the_first_month() -> None:
    assert word_text(place(Word.YES_UNTIL, samples.LIGHT_OK, samples.SHADED)) == "YES, UNTIL Mar-Jul 2027"
    assert word_text(place(Word.YES_UNTIL)) == "YES, UNTIL"
    assert word_text(place(Word.NO, samples.SHADED)) == "NO"


def test_only_a_sure_yes_is_green() -> None:
    assert {word: word_tone(word) for word in Word} == {
        Word.YES: Tone.GOOD,
        Word.YES_SLOWLY: Tone.GOOD,
        Word.YES_UNTIL: Tone.OPEN,
        Word.YES_BUT: Tone.OPEN,
        Word.LIKELY: Tone.OPEN,
        Word.LIKELY_UNTIL: Tone.OPEN,
        Word.LIKELY_BUT: Tone.OPEN,
        Word.NOT_KNOWN: Tone.OPEN,
        Word.NO: Tone.BAD,
    }


def test_every_reason_that_speaks_is_shown_and_one_row_per_quantity_of_the_rest() -> None:
    again = samples.LIGHT_OK.model_copy(update={"rule": "another"})
    choice = deciding([samples.STUNG, samples.FLOW_STALE, samples.LIGHT_OK, again, samples.GAP_OK], most=4)
    assert [reason.rule for reason in choice.shown] == [
        "keep-clear-of-stingers",
        "light-within-its-range",
        "keep-clear-of-stingers",
        "flow-for-big-polyps",
    ]


def test_speaking_reasons_are_never_cut() -> None:
    speaking = [samples.STUNG.model_copy(update={"quantity": f"gap to zoa-{index}"}) for index in range(30)]
    assert len(deciding(speaking, most=3).shown) == 30


def test_open_dangers_beyond_the_first_few_are_named() -> None:
    still_open = [
        samples.CANDY_GAP.model_copy(update={"quantity": f"gap to zoa-{index}", "id": f"k{index}"})
        for index in range(5)
    ]
    choice = deciding([*still_open, samples.LIGHT_OK], most=3)
    assert [row_label(each) for each in choice.shown] == ["gap to zoa-0", "gap to zoa-1", "gap to zoa-2"]
    assert named_text(choice) == "gap to zoa-3, gap to zoa-4"


def test_what_cannot_refuse_a_place_is_named_after_what_holds() -> None:
    choice = deciding([samples.FLOW_STALE, samples.LIGHT_OK, samples.GAP_OK], most=2)
    assert [row_label(each) for each in choice.shown] == ["light", "gap to hammer-1"]
    assert named_text(choice) == "flow"


def test_a_named_question_about_a_quantity_with_a_row_goes_by_its_rule() -> None:
    other = samples.FLOW_STALE.model_copy(update={"quantity": "light", "rule": "bleached-goes-dim"})
    assert named_text(deciding([other, samples.LIGHT_OK], most=1)) == "bleached goes dim"


def test_a_failure_is_shown_though_the_same_quantity_holds_for_another_rule() -> None:
    fails = samples.LIGHT_OK.model_copy(update={"verdict": Verdict.FAILS, "rule": "other"})
    assert [reason.rule for reason in deciding([samples.LIGHT_OK, fails], most=4).shown] == ["other"]


def test_the_same_gap_in_a_year_has_its_own_row() -> None:
    rows = reason_rows([samples.GAP_OK, samples.GAP_LATER])
    assert [row.cells[0].text for row in rows] == ["    gap to hammer-1", "    "]
    assert rows[1].cells[3].text.startswith("in a year; ")


def test_an_open_row_says_what_would_settle_it() -> None:
    assert how_text(samples.CANDY_GAP) == (
        "place words mid-left and right, back. Measure from mid-left to hammer-1 with a tape."
    )
    too_close = samples.CANDY_GAP.model_copy(update={"needs": (), "grounds": ()})
    assert how_text(too_close) == "too close to call"


def test_an_assumed_number_says_so() -> None:
    assumed = samples.LIGHT_OK.model_copy(
        update={"here": Value(low=40, high=110, unit="PAR", kind="assumed")}
    )
    assert how_text(assumed).startswith("I reckon with this; ")


def test_the_ground_of_the_number_comes_first_and_the_weakest_of_the_others_second() -> None:
    study = Ground(text="card torch", grade="study")
    mixed = samples.GAP_OK.model_copy(update={"grounds": (study, samples.REACH, samples.TAPE)})
    assert how_text(mixed) == "tape, 12 days ago; reach: card torch (keepers' word)"
    told = mixed.model_copy(update={"how": (samples.REACH, study)})
    assert how_text(told) == "reach: card torch (keepers' word); card torch"


def test_where_it_holds_the_row_tells_what_is_liked_best_and_what_is_borne() -> None:
    liking = Comfort(
        preference="light-in-its-best-band",
        low=3,
        best=3,
        high=3,
        weight=3,
        sentence="",
        quantity="light",
        wanted_low=samples.exact(80, "PAR"),
        wanted_high=samples.exact(150, "PAR"),
    )
    bands = best_bands((liking, liking.model_copy(update={"quantity": ""})))
    assert bands == {"light": "80-150 PAR"}
    (same,) = reason_rows([samples.LIGHT_OK], bands=bands)
    assert same.cells[2].text == "80-150 PAR"
    (wider,) = reason_rows([samples.LIGHT_HIGH], bands=bands)
    assert wider.cells[2].text == "80-150 PAR, bears 80-250 PAR"
    (failing,) = reason_rows([samples.LIGHT_HIGH.model_copy(update={"verdict": Verdict.FAILS})], bands=bands)
    assert failing.cells[2].text == "80-250 PAR"


def test_a_disagreement_is_told() -> None:
    assert how_text(samples.GAP_OK.model_copy(update={"disputed": True})).endswith("; disputed")


def test_a_reason_without_numbers_is_told_as_a_sentence() -> None:
    (row,) = reason_rows([samples.UP_FLOW])
    assert [part.text for part in row.cells] == [
        "    side of the flow",
        "leather-1 stands up-flow of stag-1.",
    ]


def test_what_is_not_known_is_said_and_never_a_number() -> None:
    assert here_texts([samples.FLOW_MISSING]) == ["not measured"]
    word = samples.FLOW_MISSING.model_copy(update={"here": Value(known=False)})
    assert here_texts([word]) == ["not told"]


def test_grounds_come_from_the_steps_where_a_reason_has_none() -> None:
    assert grounds_of(samples.GAP_OK.model_copy(update={"grounds": ()})) == (samples.TAPE, samples.REACH)


@pytest.mark.parametrize(
    ("reason", "text"),
    [
        (samples.STUNG, "8 cm short"),
        (samples.GAP_OK, "11 cm to spare"),
        (samples.FLOW_STALE, "reading too old"),
        (samples.CANDY_GAP, "too close to call, leans yes"),
        (samples.FLOW_MISSING, "not known"),
        (samples.GAP_OK.model_copy(update={"verdict": Verdict.ACCEPTED}), "accepted by you"),
        (samples.GAP_OK.model_copy(update={"verdict": Verdict.EXCUSED}), "excused"),
        (samples.GAP_OK.model_copy(update={"verdict": Verdict.BY_EYE}), "to be judged by eye"),
        (samples.GAP_OK.model_copy(update={"verdict": Verdict.NOT_COVERED}), ""),
    ],
)
def test_a_remark_says_what_the_numbers_amount_to(reason: Reason, text: str) -> None:
    assert remark(reason) == text


def test_small_texts() -> None:
    assert support_text(samples.STUNG) == "club handout 2024 (keepers' word)"
    assert limits_text(samples.STUNG) == "here 12 ±1 cm, wanted 20 cm or more"
    assert row_label(samples.STUNG.model_copy(update={"quantity": ""})) == "keep clear of stingers"
    assert [reason_tone(each) for each in (samples.STUNG, samples.FLOW_STALE, samples.GAP_OK)] == [
        Tone.BAD,
        Tone.OPEN,
        Tone.PLAIN,
    ]


def test_a_yes_but_names_what_is_wrong() -> None:
    dim = samples.LIGHT_OK.model_copy(
        update={"verdict": Verdict.FAILS, "level": "warning", "wanted_high": None}
    )
    assert word_text(place(Word.YES_BUT, dim)) == "YES, BUT too little light"
    assert word_text(place(Word.YES_BUT)) == "YES, BUT"


DIM = samples.LIGHT_OK.model_copy(update={"verdict": Verdict.FAILS, "level": "warning", "wanted_high": None})
LEANS_NO = samples.FLOW_STALE.model_copy(update={"level": "warning", "lean": "no"})


def test_a_likely_says_what_speaks_against_it_and_how_much_of_it() -> None:
    assert word_text(place(Word.LIKELY_BUT, DIM, LEANS_NO)) == "LIKELY, BUT too little light, and 1 more"
    assert word_text(place(Word.LIKELY_UNTIL, samples.SHADED)) == "LIKELY, UNTIL Mar-Jul 2027"


def test_what_only_leans_to_failing_is_perhaps_wrong() -> None:
    assert word_text(place(Word.YES_BUT, LEANS_NO)).startswith("YES, BUT perhaps ")


def test_what_has_no_number_is_said_to_stand_against_it() -> None:
    bare = DIM.model_copy(update={"here": None, "wanted_low": None, "quantity": "up flow acan-1"})
    assert word_text(place(Word.YES_BUT, bare)) == "YES, BUT against it: up flow acan-1"


def test_a_warning_that_leans_to_failing_has_a_row_of_its_own() -> None:
    """The word for the place counts it, so the reader must see it."""
    choice = deciding([samples.STUNG, LEANS_NO, samples.LIGHT_OK], most=1)
    assert choice.shown == (samples.STUNG, LEANS_NO)
    assert warns_now(LEANS_NO)
    assert not warns_now(samples.SHADED)


def up_flow(name: str, cm: float | None = None) -> Reason:
    """The leather up-flow of one more."""
    update = {
        "id": f"poisoners-down-flow(leather-1,{name})",
        "subjects": ("leather-1", name),
        "quantity": f"up flow {name}",
        "sentence": f"leather-1 stands up-flow of {name}",
        "apart_cm": cm,
    }
    return samples.UP_FLOW.model_copy(update=update)


def test_what_one_rule_says_in_words_of_many_is_one_row() -> None:
    many = [up_flow("acan-1", 12.4), *(up_flow(f"stag-{at}", 20.0) for at in range(1, 17)), samples.STUNG]
    choice = deciding(many, most=2)
    assert [row_label(each) for each in choice.shown] == ["up flow acan-1", row_label(samples.STUNG)]
    assert choice.named == ()
    row, _ = reason_rows(choice.shown, alike=choice.alike)
    assert row.cells[-1].text == (
        "leather-1 stands up-flow of acan-1 (acan-1 is the nearest, about 12 cm away). "
        "The same of stag-1, stag-2 and 14 more."
    )


def test_without_a_distance_nobody_is_called_the_nearest() -> None:
    one, other = up_flow("acan-1"), up_flow("stag-1", 3.0)
    choice = deciding([one, other], most=2)
    (row,) = reason_rows(choice.shown, alike=choice.alike)
    assert row.cells[-1].text == "leather-1 stands up-flow of acan-1. The same of stag-1."


def test_what_is_open_and_what_fails_stay_apart() -> None:
    still_open = up_flow("stag-1").model_copy(update={"verdict": Verdict.UNDECIDED, "lean": "no"})
    assert len(deciding([up_flow("acan-1"), still_open], most=4).shown) == 2


def test_rows_with_numbers_and_a_whole_answer_are_never_folded() -> None:
    gaps = [
        samples.STUNG.model_copy(update={"quantity": f"gap to zoa-{at}", "id": f"g{at}"}) for at in range(3)
    ]
    assert folded(gaps) == {}
    both = [up_flow("acan-1"), up_flow("stag-1")]
    assert len(deciding(both, most=4, fold=False).shown) == 2


def test_what_another_row_stands_for_is_counted_and_named_with_its_numbers() -> None:
    one = samples.STUNG.model_copy(update={"echoes": ("3 hands-apart", "4 room")})
    assert echo_text(one) == "and 2 more of the same: 3 hands-apart, 4 room; --open 3"
    assert (
        echo_text(one.model_copy(update={"echoes": ("hands-apart",)}))
        == "and 1 more of the same: hands-apart"
    )
    assert echo_text(samples.STUNG) == ""
