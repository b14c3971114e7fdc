"""Levels 2 to 4: what decides a verdict, then sources and the way there."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.model.results import Ground, Need, Reason, Step, Value, Verdict
from advisor.reports.detail import ALIKE, reason_blocks, reasons_in_detail, verdict_text
from advisor.reports.page import Block
from advisor.reports.printer import render
from advisor.reports.steps import Seen
from tests.reports import samples
from tests.reports.samples import about


def flat(blocks: list[Block]) -> str:
    """Return blocks as one line of text."""
    return " ".join(render(tuple(blocks)).split())


@pytest.mark.parametrize(
    ("reason", "text"),
    [
        (samples.STUNG, "fails by 8 ±1 cm (8 steps)"),
        (samples.GAP_OK, "holds by 11 ±1 cm (11 steps)"),
        (samples.FLOW_STALE, "undecided: stale"),
        (samples.CANDY_GAP, "undecided: too close, leans yes"),
        (samples.CANDY_GAP.model_copy(update={"margin": about(0.5, 1, "cm")}),
         "undecided: too close, leans yes, margin 0.5 ±1 cm"),
        (samples.UP_FLOW, "fails"),
        (samples.GAP_OK.model_copy(update={"verdict": Verdict.EXCUSED, "margin_steps": None}),
         "excused, margin 11 ±1 cm"),
    ],
)  # fmt: skip
def test_a_verdict_in_the_words_of_the_language(reason: Reason, text: str) -> None:
    assert verdict_text(reason) == text


def test_level_two_has_what_decides_with_its_date_and_the_node() -> None:
    shown = flat(reason_blocks("1", samples.STUNG, 2))
    for part in (
        "danger keep-clear-of-stingers(torch-1,zoa-2) fails by 8 ±1 cm (8 steps)",
        "gap to zoa-2 12 ±1 cm, wanted 20 cm or more",
        "rests on gap between torch-2 and hammer-1 = 36 ±1 cm [expect/1]: tape, 12 days ago, 21 Oct 2026",
        "longest reach of torch-2 = 25 cm: reach: card torch (keepers' word)",
        "remedy move torch-1 or zoa-2 apart",
        "changed sweeper-allowance from 5 cm to 8 cm",
    ):
        assert part in shown
    for part in ("how it was reckoned", "down-flow", "keepers' reports, no study", "club handout", "matters"):
        assert part not in shown


def test_a_reading_tells_its_instrument_and_error_and_not_how_it_was_typed() -> None:
    told = Ground(text="your meter", on=date(2026, 10, 24), age_days=9,
                  source="written as 15 cm/s; meter, corrected; error ±30 %, the usual one")  # fmt: skip
    step = samples.GAP_OK.decides[0].model_copy(update={"grounds": (told,)})
    shown = flat(reason_blocks("1", samples.GAP_OK.model_copy(update={"decides": (step,)}), 2))
    assert ": your meter, 9 days ago, 24 Oct 2026; meter, corrected; error ±30 %, the usual one" in shown


def test_level_three_adds_sources_and_the_way_to_what_decides() -> None:
    shown = flat(reason_blocks("1.3", samples.GAP_OK, 3))
    assert "1.3/expect/2 reach toward hammer-1 = 25 cm" in shown
    assert "source common practice, no source (keepers' word)" in shown
    assert "weakest the 25 cm: keepers' word" in shown
    assert "1.3/expect/2/2 hammer-1 lies down-flow of torch-2 = not known; missing" in shown


def test_a_cell_is_told_once_and_then_referred_to() -> None:
    other = samples.STUNG.model_copy(update={"rule": "another"})
    shown = flat(reasons_in_detail([("1", samples.GAP_OK), ("2", other)], 2))
    assert shown.count("tape, 12 days ago") == 1
    assert "hammer-1 = 36 ±1 cm [expect/1]; longest reach of torch-2 = 25 cm: as in 1" in shown
    whole = flat(reasons_in_detail([("1", samples.GAP_OK), ("2", other)], 4))
    assert whole.count("[tape") == 0  # the tree refers to the cells above it
    assert "1/expect/1 gap between torch-2 and hammer-1 = 36 ±1 cm; decides" in whole
    assert "is at least reach toward hammer-1 = yes, as at 1/expect" in whole


def leaf(number: int, ground: str) -> Step:
    """Return a cell of some ground."""
    return Step(id=f"r/{number}", op="wordcell", text=f"cell {number}", value=Value(words=("yes",)),
                grounds=(Ground(text=ground),), decides=True)  # fmt: skip


def test_cells_of_one_ground_stand_together_and_many_are_counted() -> None:
    alike = [leaf(number, "nobody says so") for number in range(3)]
    cells = (*alike, *(leaf(number, f"ground {number}") for number in range(3, 16)))
    reason = samples.GAP_OK.model_copy(update={"id": "r", "decides": cells, "step": None})
    whole = flat(reason_blocks("7", reason, 3))
    assert "cell 0 = yes [0]; cell 1 = yes [1]; cell 2 = yes [2]: nobody says so" in whole
    shown = flat(reason_blocks("7", reason, 2))
    assert "nobody says so" not in shown, "what counts until somebody says otherwise is for level 3"
    assert "and 4 more values like these: --open 7" in shown
    assert "cell 13" not in shown
    assert "cell 13" in flat(reason_blocks("7", reason, 4))


def of_one_rule(count: int, **update: object) -> list[tuple[str, Reason]]:
    """Return many reasons of one rule."""
    return [
        (str(number), samples.FLOW_STALE.model_copy(update={"number": str(number), **update}))
        for number in range(1, count + 1)
    ]


def test_of_one_rule_the_first_are_told_and_the_rest_counted_until_all_is_asked_for() -> None:
    shown = flat(reasons_in_detail(of_one_rule(9), 2))
    assert shown.count("needs flow(A3)") == 1
    assert shown.count("flow-for-big-polyps(torch-1,A3)") == ALIKE
    assert "and 6 more of flow-for-big-polyps, undecided: 4 flow, 5 flow" in shown
    assert flat(reasons_in_detail(of_one_rule(9), 4)).count("needs flow(A3)") == 9


def test_nothing_that_fails_is_only_counted() -> None:
    shown = flat(reasons_in_detail(of_one_rule(9, verdict=Verdict.FAILS), 2))
    assert shown.count("flow-for-big-polyps(torch-1,A3) fails") == 9


def test_the_same_cell_may_have_been_told_by_another_page() -> None:
    seen = Seen()
    reason_blocks("1", samples.GAP_OK, 2, seen)
    other = samples.GAP_OK.model_copy(update={"rule": "another"})
    assert "as in 1" in flat(reason_blocks("2", other, 2, seen))


def test_the_next_of_a_rule_is_told_in_short_with_all_that_was_measured() -> None:
    seen = Seen()
    reason_blocks("1", samples.STUNG, 2, seen)
    shown = flat(reason_blocks("2", samples.STUNG, 2, seen))
    assert shown.startswith("2 danger keep-clear-of-stingers(torch-1,zoa-2) fails by 8 ±1 cm (8 steps). ")
    assert "Gap to zoa-2 12 ±1 cm, wanted 20 cm or more" in shown
    assert "gap between torch-2 and hammer-1 = 36 ±1 cm, tape, 12 days ago" in shown
    assert "by your house file" in shown
    assert "card torch" not in shown
    assert len(reason_blocks("2", samples.STUNG, 3, seen)) > 1


def test_advice_is_told_in_short_and_one_of_each_rule() -> None:
    shown = flat(reasons_in_detail(of_one_rule(9, level="advice"), 2))
    assert "1 advice flow-for-big-polyps(torch-1,A3) undecided: stale" in shown
    assert "Hold the probe at A3" in shown
    assert "and 8 more of flow-for-big-polyps, undecided: 2 flow, 3 flow" in shown


def test_what_was_measured_of_many_is_counted_in_short() -> None:
    cells = tuple(leaf(number, f"your reading {number}") for number in range(9))
    reason = samples.GAP_OK.model_copy(update={"id": "r", "decides": cells, "level": "advice", "step": None})
    assert "and 5 more values like these: --open 7" in flat(reason_blocks("7", reason, 2))


def test_what_is_to_come_and_what_is_asked_is_told() -> None:
    later = flat(reason_blocks("1", samples.SHADED, 2))
    assert "holds now, fails from Mar-Jul 2027" in later
    open_one = flat(reason_blocks("1", samples.FLOW_STALE, 2))
    assert "flow(A3): Hold the probe at A3, pumps as at noon" in open_one
    assert "numbers your flow meter, 5 months ago, 12 Jun 2026" in open_one


def test_many_questions_are_counted() -> None:
    needs = tuple(Need(measure="gap", subjects=(f"a{number}",), ask="tape") for number in range(8))
    shown = flat(reason_blocks("1", samples.FLOW_STALE.model_copy(update={"needs": needs}), 2))
    assert "gap(a2): tape and 5 more readings" in shown


def test_a_bare_truth_is_left_to_the_sentence() -> None:
    assert " here " not in flat(reason_blocks("1", samples.UP_FLOW, 2))


def test_the_line_that_would_accept_it_is_printed_as_it_can_be_pasted() -> None:
    line = 'accept keep-clear for a at "26 cm, 13 cm",\n  b short by 8 cm because "…"'
    shown = render(tuple(reason_blocks("1", samples.STUNG.model_copy(update={"accept": line}), 2)))
    start = shown.index("     to paste  ")
    assert shown[start:].splitlines()[:2] == [
        '     to paste  accept keep-clear for a at "26 cm, 13 cm",',
        '                 b short by 8 cm because "…"',
    ]


@pytest.mark.parametrize("level", ["danger", "advice"])
def test_what_is_told_in_short_says_once_where_its_line_to_accept_is(level: str) -> None:
    line = 'accept keep-clear for a at "26 cm, 13 cm",\n  b short by 8 cm because "…"'
    reason = samples.STUNG.model_copy(update={"accept": line, "level": level})
    seen = Seen()
    shown = [flat(reason_blocks(number, reason, 2, seen)) for number in ("1", "2", "3")]
    first = 0 if level == "advice" else 1
    assert "to paste" not in shown[1]
    assert shown[first].endswith(f"told in short: --open with its number, as --open {first + 1}.")
    assert "to accept" not in shown[2]
