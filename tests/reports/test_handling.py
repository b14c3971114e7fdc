"""The handling sheet on the screen: refusals before anything else, every source named."""

from __future__ import annotations

import pytest

from advisor.model.handling import HandlingAnswer, HandlingStep
from advisor.model.results import Caution
from advisor.reports.handling import handling_page
from advisor.reports.page import Labelled
from advisor.reports.printer import render


def step(
    text: str, *actions: str, instead: str = "", own: bool = False, source: str = "A 2015"
) -> HandlingStep:
    """One line."""
    return HandlingStep(
        text=text, actions=actions, instead=instead, source=source, grade="study" if source else "", own=own
    )


SHEET = HandlingAnswer(
    asked="zoa-1",
    title="zoas",
    cards=("zoanthus",),
    cautions=(Caution(text="Gloves."),),
    never=(step("Never steam it.", "steaming it"),),
    first=(step("Goggles.", "touching it", "cutting it"), step("A mask.", "cutting it", source="B")),
    ways=(step("Under water.", "touching it"), step("A sharp blade.", "cutting it", own=True)),
    signs=(step("A bitter taste."),),
    helps=(step("Call the emergency services."),),
    defers=(step("The label counts."),),
)
REFUSAL = SHEET.model_copy(
    update={
        "doing": "boil [bold]it",
        "about_to": ("boiling it",),
        "refused": (step("Never boil it.", "boiling it", instead="leave it"),),
        "read_as": ("'boling' was read as 'boil'",),
        "more": ("handle zoa-1",),
        "notes": ("something is spoilt",),
    }
)


def test_a_refusal_is_the_first_thing_printed() -> None:
    lines = render(handling_page(REFUSAL)).splitlines()
    assert lines[0].startswith("NO        Never boil it.")
    assert lines[1] == "          Instead: Leave it."
    assert lines[3].startswith("zoa-1     zoas (card zoanthus)")


def test_the_sheet_stands_in_the_order_of_what_matters() -> None:
    shown = render(handling_page(SHEET))
    order = [
        "NEVER",
        "CAUTION",
        "FIRST",
        "TOUCHING IT",
        "CUTTING IT",
        "SIGNS",
        "GET HELP",
        "ABOVE ALL",
        "SOURCES",
    ]
    places = [shown.index(word) for word in order]
    assert places == sorted(places)
    assert "For cutting it: A mask." in shown
    assert "Until all of this is at hand, wait." in shown


def test_every_line_names_its_source_by_number_and_grade() -> None:
    shown = render(handling_page(SHEET))
    assert "Never steam it. [1, study]" in shown
    assert "A mask. [2, study]" in shown
    assert "A sharp blade. [1, study, your own file]" in shown
    assert "SOURCES   1  A 2015\n          2  B" in shown


def test_a_line_without_a_source_says_so() -> None:
    bare = SHEET.model_copy(update={"signs": (step("Sore eyes.", source=""),)})
    assert "Sore eyes. [no source]" in render(handling_page(bare))


def test_what_was_understood_and_how_is_told() -> None:
    shown = render(handling_page(REFUSAL))
    assert "ABOUT TO  I understood: boiling it." in shown
    assert "'boling' was read as 'boil'." in shown
    assert "NOTE      Something is spoilt." in shown
    assert shown.endswith("More: handle zoa-1\n")


def test_what_was_not_recognised_is_told_as_it_was_typed() -> None:
    answer = SHEET.model_copy(update={"doing": "[red]warp", "not_recognised": True})
    assert "I do not know what '[red]warp' would do, so this is the whole sheet." in render(
        handling_page(answer)
    )


def test_why_it_is_the_stricter_sheet_is_told() -> None:
    answer = SHEET.model_copy(update={"stricter": "nobody knows what it is", "known_as": "'x' may be y"})
    shown = render(handling_page(answer))
    assert "STRICTER  Nobody knows what it is." in shown
    assert "'x' may be y." in shown


def test_at_a_glance_of_a_plan_a_refusal_the_cautions_and_what_comes_first_remain() -> None:
    shown = render(handling_page(REFUSAL, 0))
    assert shown.startswith("NO        Never boil it. [study]")
    assert "I understood: boiling it." in shown
    assert "CAUTION   Gloves." in shown
    assert "FIRST     Goggles. [study]" in shown
    assert "Under water." not in shown
    assert "Never steam it." not in shown
    unread = REFUSAL.model_copy(update={"not_read": ("warp",)})
    assert "Never steam it. [study]" in render(handling_page(unread, 0))


def test_at_a_glance_all_but_the_ways_of_doing_it_remain_of_the_whole_sheet() -> None:
    shown = render(handling_page(SHEET, 0))
    assert "Never steam it. [study]" in shown
    assert "CAUTION   Gloves." in shown
    assert "FIRST     Goggles. [study]" in shown
    assert "Call the emergency services." in shown
    assert "Under water." not in shown
    assert "SOURCES" not in shown


@pytest.mark.parametrize("level", range(5))
def test_nothing_is_wider_than_80_columns(level: int) -> None:
    assert max(map(len, render(handling_page(REFUSAL, level)).splitlines())) <= 80
    assert all(block.width == 10 for block in handling_page(SHEET) if isinstance(block, Labelled))
