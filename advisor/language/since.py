"""``days since fixed of c``: one measure for each event and kind of thing, made where it is used.

Such measures are never declared. They bear a name of their own, so that tables,
examples and questions treat them like any other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from advisor.language.nodes import Aggregate, Call, Define, Expr, Name, Prefer, Rule, Since, Text
from advisor.language.things import SPOT
from advisor.language.walk import bodies, children, conditions
from advisor.model.vocabulary import EventKind, Kind, Measure, NumberType, Param, Supplier
from advisor.units import UNITS

EVENTS = tuple(kind.value for kind in EventKind)
DAYS_SINCE = "days-since"
"""What computes such a measure, and how its name begins."""
MOST_DAYS = 20_000.0
_OF = "-of-"


def since_name(event: str, kind: Kind) -> str:
    """Return the name of the measure that tells how long ago an event of a kind of thing is."""
    whose = "" if kind.lives else f"{_OF}{kind.value}"
    return f"{DAYS_SINCE}-{event}{whose}"


def event_of(name: str) -> str:
    """Return the event that such a measure is about, empty for any other name."""
    prefix = f"{DAYS_SINCE}-"
    event = name.removeprefix(prefix).partition(_OF)[0]
    return event if name.startswith(prefix) and event in EVENTS else ""


def since_measure(event: str, kind: Kind) -> Measure:
    """Return the measure of the days since an event; without such an event in the journal it is unknown."""
    named = "the tank" if kind is Kind.TANK else "{x}"
    param = Param(Kind.TANK, "tank") if kind is Kind.TANK else Param(Kind.ANIMAL if kind.lives else kind, "x")
    return Measure(
        since_name(event, kind),
        (param,),
        NumberType(UNITS["days"].dimension, UNITS["days"]),
        (Supplier.COMPUTED,),
        computed_by=DAYS_SINCE,
        high=MOST_DAYS,
        say=f"days since {named} was {event}",
        ask=f"When was {named} last {event}? The journal does not tell",
    )


def as_call(node: Since, kinds: Mapping[str, Kind]) -> Call:
    """Return what an example states of it: the measure applied; who is not introduced yet is an animal."""
    name = since_name(node.event, kind_of(node.of, kinds))
    return Call(node.span, name, (node.of,), False, node.event_span)


def kind_of(of: Expr, scope: Mapping[str, Kind]) -> Kind:
    """Return the kind of thing that an expression names in a scope; an animal where it names none."""
    match of:
        case Call(name=name) if name == SPOT:
            return Kind.PLACE
        case Name(name="tank"):
            return Kind.TANK
        case Name(name=name):
            return scope.get(name, Kind.ANIMAL)
        case _:
            return Kind.ANIMAL


def events_asked(item: Define | Rule | Prefer) -> Iterator[Measure]:
    """Yield the measure of each ``days since`` that a declaration asks for, in its texts too."""
    if isinstance(item, Define):
        scope = {param.name: param.kind for param in item.params}
        parts: tuple[Expr, ...] = bodies(item)
        texts: tuple[Text | None, ...] = (item.say,)
    else:
        scope = {binder.name: binder.kind for binder in item.binders}
        parts = conditions(item)
        texts = (item.because, item.remedy, *item.duties) if isinstance(item, Rule) else (item.because,)
    pieces = [piece for text in texts if text is not None for piece in text.pieces]
    yield from _used((*parts, *(piece for piece in pieces if not isinstance(piece, str))), scope)


def _used(parts: Iterable[Expr], scope: Mapping[str, Kind]) -> Iterator[Measure]:
    """The measures below some expressions, their kinds taken from the scope."""
    for part in parts:
        inner = scope
        if isinstance(part, Since) and part.event in EVENTS:
            yield since_measure(part.event, kind_of(part.of, scope))
        if isinstance(part, Aggregate):
            inner = {**scope, part.binder.name: part.binder.kind}
        yield from _used(children(part), inner)
