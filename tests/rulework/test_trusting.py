"""What dangers rest on, counted in small examples."""

from __future__ import annotations

from advisor.rulework.trusting import decisions_of
from tests.rulework.little import FAR, NEAR, PARTED, ROOM, RULE, little

DANGER = ROOM + RULE.replace("level warning", "level danger")


def test_examples_that_hold_or_fail_are_counted() -> None:
    found = decisions_of(little(FAR, NEAR, PARTED), ())
    assert found.rules["tested"] == 2
    assert (found.tank_rules.total(), found.values.total()) == (0, 0)


def test_only_dangers_make_a_line_weigh() -> None:
    assert decisions_of(little(FAR, NEAR), ()).lines == {}
    lines = decisions_of(little(NEAR, rules=DANGER), ()).lines
    assert lines["weapon-reach"] == lines["weapon-potency"] == 1
    assert "growth-out" not in lines


def test_what_holds_without_a_value_does_not_rest_on_it() -> None:
    # 30 cm are enough for any reach of the little vocabulary but one of 60 cm, so the reach is needed;
    # 60 cm and more are enough whatever the reach is
    far_off = FAR.replace("30 cm", "70 cm").replace("by 10 cm", "by 50 cm")
    assert decisions_of(little(FAR, rules=DANGER), ()).lines["weapon-reach"] == 1
    assert decisions_of(little(far_off, rules=DANGER), ()).lines["weapon-reach"] == 0
