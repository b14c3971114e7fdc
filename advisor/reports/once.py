"""An answer in which every step is told once: where it stands again, only where it stood before."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field

from advisor.model.results import (
    AuditAnswer,
    Finding,
    PlaceAnswer,
    Reason,
    Step,
    WhereAnswer,
    WhyAnswer,
)
from advisor.model.tank import Model


def told_once(answer: Model) -> Model:
    """Return an answer with steps that say the same as an earlier one cut to a reference to it.

    Earlier is in the order of the document. What a step says is all but its
    id: its value, its grounds, and everything below.
    """
    teller = _Teller()
    match answer:
        case WhereAnswer(gates=gates, tonight=tonight, places=places):
            found: dict[str, object] = {
                "gates": teller.reasons(gates),
                "tonight": None if tonight is None else teller.place(tonight),
                "places": tuple(map(teller.place, places)),
            }
        case WhyAnswer(gates=gates, place=place):
            found = {"gates": teller.reasons(gates), "place": teller.place(place)}
        case AuditAnswer(gates=gates, now=now, later=later, open=still_open, open_advice=advice):
            found = {
                "gates": teller.reasons(gates),
                "now": teller.findings(now),
                "later": teller.findings(later),
                "open": teller.reasons(still_open),
                "open_advice": teller.reasons(advice),
                "accepted": teller.reasons(answer.accepted),
            }
        case _:
            return answer
    return answer.model_copy(update=found)


@dataclass(slots=True)
class _Teller:
    """What was told so far."""

    content: dict[Hashable, int] = field(default_factory=dict)
    """A number for everything a step may say, its id aside."""
    first: dict[int, str] = field(default_factory=dict)
    """The id of the first step that said it."""

    def place(self, place: PlaceAnswer) -> PlaceAnswer:
        """Return a place with the steps of its reasons told once."""
        return place.model_copy(update={"reasons": self.reasons(place.reasons)})

    def findings(self, findings: Iterable[Finding]) -> tuple[Finding, ...]:
        """Return findings with the steps of their reasons told once."""
        return tuple(each.model_copy(update={"reason": self._reason(each.reason)}) for each in findings)

    def reasons(self, reasons: Iterable[Reason]) -> tuple[Reason, ...]:
        """Return reasons with their steps told once."""
        return tuple(map(self._reason, reasons))

    def _reason(self, reason: Reason) -> Reason:
        """A reason with its steps told once."""
        decides = tuple(self._step(step)[0] for step in reason.decides)
        step = None if reason.step is None else self._step(reason.step)[0]
        return reason.model_copy(update={"decides": decides, "step": step})

    def _step(self, step: Step) -> tuple[Step, int]:
        """A step told once, and the number of what it says."""
        inputs = [self._step(each) for each in step.inputs]
        said = (
            step.op,
            step.text,
            _fields(step.value),
            step.cause,
            tuple(map(_fields, step.grounds)),
            step.house,
            tuple(number for _, number in inputs),
        )
        number = self.content.setdefault(said, len(self.content))
        if number not in self.first:
            self.first[number] = step.id
            return step.model_copy(update={"inputs": tuple(each for each, _ in inputs)}), number
        again = {"grounds": (), "inputs": (), "house": (), "same_as": self.first[number]}
        worth = step.grounds or step.inputs or step.house
        return (step.model_copy(update=again) if worth else step), number


def _fields(model: Model) -> Hashable:
    """The values of a model, without the cost of its own hash."""
    return tuple(vars(model).values())
