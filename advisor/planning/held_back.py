"""What is not put down to light or flow while the water itself is out of order."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.language.nodes import Level
from advisor.model.results import Reason, Verdict

LIGHT_AND_FLOW = frozenset({"light", "flow", "pattern"})
"""First words of what a finding is about that a wrong water may look like."""


def held_back(found: Sequence[Reason], gates: Sequence[Reason]) -> tuple[list[Reason], list[Reason]]:
    """Return the findings that count, and those by light or flow that wait for the water to be mended.

    A danger is never held back, and advice about the water alone holds back nothing.
    """
    out_of_order = any(gate.verdict is Verdict.FAILS and gate.level != Level.ADVICE.value for gate in gates)
    waiting = [reason for reason in found if out_of_order and _waits(reason)]
    return [reason for reason in found if reason not in waiting], waiting


def note_of(waiting: Sequence[Reason]) -> tuple[str, ...]:
    """Return what an answer says of the findings that wait."""
    if not waiting:
        return ()
    many = f"{len(waiting)} findings" if len(waiting) > 1 else "1 finding"
    return (
        f"{many} by light or flow held back until what stands above is mended: "
        "wrong water looks the same (--level 2)",
    )


def _waits(reason: Reason) -> bool:
    """Whether a finding may be what wrong water looks like."""
    about = reason.quantity.split()[0] if reason.quantity else ""
    return reason.level != Level.DANGER.value and about in LIGHT_AND_FLOW
