"""Values, grounds and numbers that the hand-built answers are made of."""

from __future__ import annotations

from datetime import date

from advisor.model.results import Ground, Reason, Step, Value

TODAY = date(2026, 11, 2)
METER = Ground(text="your meter", on=date(2026, 10, 24), age_days=9)
CRUMB = Ground(text="crumb timed 5 times", on=date(2026, 10, 24), age_days=9)
TAPE = Ground(text="tape", on=date(2026, 10, 21), age_days=12)
REACH = Ground(text="reach: card torch", grade="experience", source="keepers' reports, no study")


def about(best: float, error: float, unit: str, kind: str = "measured") -> Value:
    """Return a value with an even error."""
    return Value(low=best - error, best=best, high=best + error, unit=unit, kind=kind)


def exact(number: float, unit: str) -> Value:
    """Return a planning number without error."""
    return Value(low=number, best=number, high=number, unit=unit, kind="card")


def span(low: float, high: float, unit: str, *words: str, kind: str = "stated") -> Value:
    """Return a range nothing singles a number out of."""
    return Value(low=low, high=high, unit=unit, words=words, kind=kind)


def unmeasured(unit: str, high: float = 150.0) -> Value:
    """Return a value nobody knows."""
    return Value(low=0.0, high=high, unit=unit, known=False, kind="unknown")


def numbered(*reasons: Reason, mark: str = "") -> tuple[Reason, ...]:
    """Return reasons with the numbers they are printed under."""
    return tuple(
        each.model_copy(update={"number": f"{mark}{number}"}) for number, each in enumerate(reasons, 1)
    )


def renamed(step: Step, before: str, after: str) -> Step:
    """Return a step of one reason as if it were of another."""
    inputs = tuple(renamed(each, before, after) for each in step.inputs)
    return step.model_copy(update={"id": after + step.id.removeprefix(before), "inputs": inputs})
