"""What is drawn of a card, to scale."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from advisor.model.results import CardAnswer, CardLine
from advisor.reports.notecard_drawing import Scales, drawing, scales_of


def coral(*lines: CardLine) -> CardAnswer:
    return CardAnswer(card="x", title="x", lines=lines)


def told(label: str, topic: str, low: float, high: float) -> CardLine:
    return CardLine(label=label, text="…", topic=topic, low=low, high=high)


REACH = told("reach", "reach", 5, 20)
LIGHT = told("good light", "light", 100, 400)
STANDS = told("light it stands", "light", 25, 900)
FLOW = told("good flow", "flow", 6, 24)


def radii(svg: str) -> dict[str, float]:
    return {kind: float(r) for kind, r in re.findall(r'class="(usual|most)"[^>]* r="([\d.]+)"', svg)}


def test_scales_take_in_every_card() -> None:
    assert scales_of([coral(REACH), coral(STANDS), coral(FLOW)]) == Scales(900, 24, 20)
    assert scales_of([]) == Scales(400, 30, 10)


def test_rings_are_as_long_as_the_reach_on_one_scale() -> None:
    far, near = (
        radii(drawing(coral(REACH), Scales(400, 30, 40))),
        radii(drawing(coral(REACH), Scales(400, 30, 20))),
    )
    assert far["most"] == pytest.approx(4 * far["usual"], abs=0.3)
    assert near["most"] == pytest.approx(2 * far["most"], abs=0.2)


def test_more_light_stands_higher() -> None:
    def top(low: float, high: float) -> float:
        svg = drawing(coral(told("good light", "light", low, high)), Scales(400, 30, 10))
        return float(re.findall(r'class="best"[^>]* y="([\d.]+)"', svg)[0])

    assert top(100, 200) > top(100, 300) > top(100, 400)


def test_views_that_differ_stand_beside_each_other() -> None:
    svg = drawing(coral(LIGHT, told("good light", "light", 50, 100)), Scales(400, 30, 10))
    assert svg.count('class="best"') == svg.count('class="best other"') == 1


def test_it_is_sound_and_leaves_out_what_is_not_told() -> None:
    ElementTree.fromstring(drawing(coral(REACH, LIGHT, STANDS, FLOW), Scales(900, 30, 20)))
    assert "flow" not in re.sub("<svg[^>]*>", "", drawing(coral(REACH), Scales(400, 30, 20)))
    assert drawing(coral(), Scales(400, 30, 10)) == ""
