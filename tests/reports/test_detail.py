"""Levels 2 to 4: conditions, readings and definitions behind a verdict."""

from __future__ import annotations

import pytest

from advisor.model.results import Reason, Step, Value, Verdict
from advisor.reports.detail import Seen, node_page, reason_blocks, step_blocks, verdict_text
from advisor.reports.outline import Node, find_node
from advisor.reports.printer import render
from tests.reports import samples
from tests.reports.samples import about


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


def test_level_two_has_rule_level_margin_date_source_and_node() -> None:
    shown = " ".join(render(tuple(reason_blocks("1", samples.STUNG, 2))).split())
    for part in (
        "danger keep-clear-of-stingers fails by 8 ±1 cm (8 steps)",
        "gap to zoa-2 12 ±1 cm, wanted 20 cm or more",
        "gap between torch-2 and hammer-1 = 36 ±1 cm: tape, 12 days ago, 21 Oct",
        "changed sweeper-allowance from 5 cm to 8 cm",
        "club handout 2024 (keepers' word)",
        "keep-clear-of-stingers(torch-1,zoa-2)",
    ):
        assert part in shown
    assert "how it was reckoned" not in shown


def test_level_three_walks_down_to_the_readings() -> None:
    shown = render(tuple(reason_blocks("1.3", samples.GAP_OK, 3)))
    assert "1.3.2  reach toward hammer-1 = 25 cm" in shown
    assert "1.3.2.1  longest reach of torch-2 = 25 cm  [reach: card torch" in shown
    assert "1.3.2.2  hammer-1 lies down-flow of torch-2 = not known; missing" in shown


def test_a_repeated_step_is_printed_once() -> None:
    seen = Seen()
    blocks = reason_blocks("1", samples.GAP_OK, 3, seen) + reason_blocks("2", samples.GAP_OK, 3, seen)
    shown = " ".join(render(tuple(blocks)).split())
    assert shown.count("2.1 longest reach of torch-2") == 1
    assert "is at least reach toward hammer-1 = yes, as at 1.0" in shown


def test_the_same_step_under_two_ids_is_printed_once() -> None:
    twin = samples.GAP_STEP.model_copy(update={"id": "elsewhere"})
    shown = " ".join(
        render(
            tuple(
                step_blocks(
                    "1", twin.model_copy(update={"text": "both", "inputs": (samples.GAP_STEP, twin)}), Seen()
                )
            )
        ).split()
    )
    assert shown.count("[tape, 12 days ago") == 1
    assert "1.2 gap between torch-2 and hammer-1 is at least reach toward hammer-1 = yes, as at 1.1" in shown


def test_a_number_is_not_said_to_be_itself() -> None:
    zero = Step(id="z", op="number", text="25 cm", value=samples.exact(25, "cm"))
    assert render(tuple(step_blocks("1", zero, Seen()))).strip() == "1  25 cm"


def test_a_crowd_of_inputs_is_counted() -> None:
    leaf = Step(id="x", op="measure", text="leaf", value=Value(low=1, best=1, high=1, unit="cm"))
    many = tuple(leaf.model_copy(update={"id": f"x/{index}", "text": f"leaf {index}"}) for index in range(40))
    crowd = Step(id="sum", op="aggregate", text="sum of many", value=Value(), inputs=many)
    shown = render(tuple(step_blocks("1", crowd, Seen())))
    assert shown.count("leaf") == 12
    assert "and 28 more of this kind: --open sum" in shown


def test_an_opened_step_shows_all_of_it() -> None:
    node = find_node(samples.where_torch(), "1.3.2")
    assert node is not None
    shown = render(node_page(node))
    assert shown.splitlines()[:2] == [
        "node      keep-clear-of-stingers(torch-2,hammer-1)/expect/2",
        "kind      define",
    ]
    assert "1.3.2.1  longest reach of torch-2 = 25 cm" in shown


def test_an_opened_reason_is_printed_in_full() -> None:
    shown = render(node_page(Node("1", samples.GAP_OK.id, samples.GAP_OK)))
    assert "how it was reckoned" in shown


def test_what_is_to_come_and_what_is_asked_is_told() -> None:
    later = render(tuple(reason_blocks("1", samples.SHADED, 2)))
    assert "holds now, fails from Mar-Jul 2027" in later
    open_one = render(tuple(reason_blocks("1", samples.FLOW_STALE, 2)))
    assert "flow(A3): Hold the probe at A3, pumps as at noon" in open_one


def test_the_line_that_would_accept_it_is_printed_as_it_can_be_pasted() -> None:
    line = 'accept keep-clear for a at "26 cm, 13 cm",\n  b short by 8 cm because "…"'
    shown = render(tuple(reason_blocks("1", samples.STUNG.model_copy(update={"accept": line}), 2)))
    start = shown.index("     accept    ")
    assert shown[start:].splitlines()[:2] == [
        '     accept    accept keep-clear for a at "26 cm, 13 cm",',
        '                 b short by 8 cm because "…"',
    ]


def test_what_the_house_changed_stands_beside_the_step_it_touches() -> None:
    step = samples.GAP_STEP.model_copy(update={"house": ("your house file changed x from 1 cm to 2 cm",)})
    shown = render(tuple(step_blocks("1.0", step, Seen())))
    assert "; your house file changed x from 1 cm to 2 cm" in " ".join(shown.split())
