"""Reasons made by hand."""

from __future__ import annotations

from datetime import date

from advisor.model.results import Months, Need, Reason, Verdict

LATER = Months(earliest=date(2027, 3, 1), expected=date(2027, 5, 1), latest=None)


def reason(
    *subjects: str,
    rule: str = "rule",
    level: str = "danger",
    verdict: Verdict = Verdict.FAILS,
    cause: str = "",
    margin: float | None = None,
    lean: str = "",
    quantity: str = "",
    until: Months | None = None,
    needs: tuple[Need, ...] = (),
    duties: tuple[str, ...] = (),
) -> Reason:
    """Return a reason about some subjects."""
    return Reason(
        id=f"{rule}({','.join(subjects)})", rule=rule, level=level, stage="always", verdict=verdict,
        cause=cause, lean=lean, subjects=subjects, quantity=quantity, margin_steps=margin,
        sentence=f"{rule} of {subjects}", until=until, needs=needs, duties=duties,
    )  # fmt: skip
