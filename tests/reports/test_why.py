"""The answer to "why there?" and "why not there?"."""

from __future__ import annotations

from pathlib import Path

import pytest
from rich.cells import cell_len

from advisor.model.results import Verdict, WhyAnswer
from advisor.reports.outline import find_node
from advisor.reports.printer import Look, render
from advisor.reports.why import why_page
from tests.reports import samples

GOLDEN = Path(__file__).parent / "golden"


def why_yes() -> WhyAnswer:
    return samples.why_not_torch().model_copy(
        update={
            "question": "why torch-2 right-terrace",
            "place": samples.RIGHT_TERRACE,
            "cures": (),
            "by_eye": (),
        }
    )


@pytest.mark.parametrize(
    ("name", "answer", "level"),
    [("no", samples.why_not_torch(), 1), ("no-level-2", samples.why_not_torch(), 2), ("yes", why_yes(), 1)],
)
def test_it_reads_as_it_was_approved(name: str, answer: WhyAnswer, level: int) -> None:
    assert render(why_page(answer, level)) == (GOLDEN / f"why-{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("level", range(5))
@pytest.mark.parametrize("width", [44, 80])
def test_nothing_is_wider_than_the_screen(level: int, width: int) -> None:
    shown = render(why_page(samples.why_not_torch(), level), Look(width=width))
    assert max(map(cell_len, shown.splitlines())) <= width


def test_level_zero_is_the_verdict_and_the_caution() -> None:
    assert render(why_page(samples.why_not_torch(), 0)).splitlines() == [
        "NO  torch-1 at A3",
        "CAUTION   Mild sting to thin skin: gloves. At night it reaches up to 25 cm.",
    ]


def test_a_danger_of_the_whole_tank_stands_before_the_yes_and_in_it() -> None:
    gate = samples.ALKALINITY.model_copy(update={"level": "danger", "verdict": Verdict.FAILS})
    update = {"gates": (gate,)}
    shown = render(why_page(why_yes().model_copy(update=update), 0))
    assert shown.startswith("FIX FIRST")
    assert " at right-terrace, only when that is fixed\n" in shown
    refused = render(why_page(samples.why_not_torch().model_copy(update=update), 0))
    assert "NO  torch-1 at A3\n" in refused


def test_a_hundred_reasons_are_cut_with_their_number() -> None:
    stung = tuple(
        samples.STUNG.model_copy(update={"id": f"k(torch-1,zoa-{index})", "quantity": f"gap to zoa-{index}"})
        for index in range(100)
    )
    place = samples.why_not_torch().place.model_copy(update={"reasons": stung})
    shown = render(why_page(samples.why_not_torch().model_copy(update={"place": place})))
    assert "and 88 more reasons: --level 2" in shown


def test_what_held_comes_only_at_level_four() -> None:
    held = tuple(
        samples.GAP_OK.model_copy(update={"id": f"k{index}", "rule": f"keep-clear-{index}", "step": None})
        for index in range(9)
    )
    place = samples.RIGHT_TERRACE.model_copy(update={"reasons": held, "holds": 9})
    answer = why_yes().model_copy(update={"place": place})
    assert render(why_page(answer, 2)).count("danger k") == 4
    assert "5 other rules hold here." in render(why_page(answer, 2))
    assert render(why_page(answer, 4)).count("danger keep-clear") == 9
    assert "other rule" not in render(why_page(answer, 4))


def test_reasons_keep_the_number_they_can_be_opened_by() -> None:
    place = samples.why_not_torch().place.model_copy(
        update={"reasons": samples.numbered(samples.LIGHT_OK, samples.STUNG)}
    )
    answer = samples.why_not_torch().model_copy(update={"place": place})
    assert "\n2 gap to zoa-2 " in render(why_page(answer))
    node = find_node(answer, "2")
    assert node is not None
    assert node.id == samples.STUNG.id


def test_smaller_questions_are_only_named() -> None:
    small = samples.FLOW_STALE.model_copy(update={"level": "advice", "quantity": "headroom"})
    place = samples.RIGHT_TERRACE.model_copy(update={"reasons": (*samples.RIGHT_TERRACE.reasons, small)})
    shown = render(why_page(why_yes().model_copy(update={"place": place})))
    assert "also open headroom: --level 2" in " ".join(shown.split())
    assert "143 days" not in shown


def test_why_it_matters_is_told_of_what_fails() -> None:
    shown = render(why_page(samples.why_not_torch()))
    assert shown.count("why it matters") == 1
    assert shown.count("what helps") == 1


def test_what_one_rule_says_in_words_of_many_is_told_once() -> None:
    many = tuple(
        samples.UP_FLOW.model_copy(
            update={"id": f"p(leather-1,c-{at})", "subjects": ("leather-1", f"c-{at}"), "number": str(at + 1)}
        )
        for at in range(20)
    )
    place = samples.why_not_torch().place.model_copy(update={"reasons": many})
    text = render(why_page(samples.why_not_torch().model_copy(update={"place": place})))
    assert text.count("leather-1 stands up-flow of") == 1
    assert "The same of c-1, c-2 and 17 more." in " ".join(text.split())
    assert "more reasons" not in text
