"""A mat and the colonies that lead from it: the explanation names the way, or the link nobody measured."""

from __future__ import annotations

from pathlib import Path

from advisor.model.results import Reason, Step, Verdict
from tests.planning.tanks import coral, opened

RULE = "no-bridge-for-a-mat"


def told(folder: Path, last_link: str) -> Reason:
    """What the audit says of the mat and the coral two colonies on."""
    corals = (
        coral("star-1", "green star polyps", 'at: "10, 20, 20 cm", size: 6 cm')
        + coral("candy-1", "candy cane", 'at: "17, 20, 20 cm", size: 6 cm')
        + coral("candy-2", "candy cane", 'at: "24, 20, 20 cm", size: 6 cm')
        + "gaps:\n  - {between: [star-1, candy-1], gap: 0 cm, on: 2026-10-30}\n"
        + "  - {between: [star-1, candy-2], gap: 8 cm, on: 2026-10-30}\n"
        + f"  - {{between: [candy-1, candy-2], gap: {last_link}, on: 2026-10-30}}\n"
    )
    answer = opened(folder, corals=corals).audit(level=4)
    every = [*(finding.reason for finding in answer.now), *answer.open, *answer.open_advice]
    return next(
        reason for reason in every if reason.rule == RULE and reason.subjects == ("star-1", "candy-2")
    )


def links(step: Step) -> list[str]:
    """The quantities a chain was reckoned from."""
    own = [step.text] if step.op == "numbercell" else []
    return own + [text for child in step.inputs for text in links(child)]


def test_the_way_is_told_link_by_link(tmp_path: Path) -> None:
    reason = told(tmp_path, "0 cm")
    assert reason.verdict is Verdict.FAILS
    assert reason.step is not None
    assert links(reason.step) == ["gap between star-1 and candy-1", "gap between candy-1 and candy-2"]


def test_the_link_that_is_open_is_asked_for(tmp_path: Path) -> None:
    reason = told(tmp_path, "0 to 4 cm")
    assert reason.verdict is Verdict.UNDECIDED
    assert [set(need.subjects) for need in reason.needs if need.measure == "gap"] == [{"candy-1", "candy-2"}]
