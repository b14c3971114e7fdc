"""Chains of a relation and days since an event, checked."""

from __future__ import annotations

from advisor.language.guess import nearest, several
from advisor.language.mends import some
from advisor.language.nodes import Binder, Chain, Since, StepsAway
from advisor.language.since import EVENTS
from advisor.language.things import ARTICLE, Scope, Things, source_text
from advisor.model.vocabulary import Kind, NumberType, TruthType
from advisor.units import UNITS

_WHAT = "steps lead from animal to animal"


def check_since(things: Things, expr: Since, scope: Scope) -> NumberType | None:
    """Return the type of ``days since EVENT of x``; None where the journal knows no such event."""
    kind = things.thing(expr.of, scope)
    if expr.event not in EVENTS:
        things.say(
            "word-130",
            f"the journal knows no event '{expr.event}'",
            expr.event_span,
            f"one of: {several(EVENTS, len(EVENTS))}",
            nearest(expr.event, EVENTS, 0.0),
        )
        return None
    return None if kind is None else NumberType(UNITS["days"].dimension, UNITS["days"])


def check_steps(things: Things, expr: StepsAway, scope: Scope) -> None:
    """Check ``b is within 2 steps of a over RELATION``: two animals and a relation of two."""
    kind = things.thing(expr.thing, scope)
    if kind is not None and not kind.lives:
        mend = some(Kind.ANIMAL, scope, but=expr.chain.of) or some(Kind.ANIMAL, scope)
        things.say("word-121", _WHAT, expr.thing.span, f"this is {ARTICLE[kind]}", mend)
    check_chain(things, expr.chain, scope)


def check_binder(things: Things, binder: Binder, scope: Scope) -> None:
    """Check the chain of a binder; only an animal stands in one."""
    if binder.chain is not None and not binder.kind.lives:
        mend = f"animal {binder.name} {source_text(binder.chain)}"
        things.say("word-121", _WHAT, binder.span, f"this is {ARTICLE[binder.kind]}", mend)
    check_chain(things, binder.chain, scope)


def check_chain(things: Things, chain: Chain | None, scope: Scope) -> None:
    """Check where a chain starts and over what it goes."""
    if chain is None:
        return
    start = scope.get(chain.of)
    if start is None:
        things.unbound(chain.of, chain.span, scope)
    elif not start.lives:
        steps = "1 step" if chain.steps == 1 else f"{chain.steps} steps"
        mend = f"within {steps} of {some(Kind.ANIMAL, scope) or '…'} over {chain.over}"
        things.say("word-121", _WHAT, chain.span, f"this is {ARTICLE[start]}", mend)
    params = things.params(chain.over)
    if params is None:
        things.unknown(chain.over, chain.over_span, scope, TruthType(), _relations(things))
    elif [param.kind for param in params] != [Kind.ANIMAL, Kind.ANIMAL] or things.value_of(
        chain.over
    ) != TruthType():
        things.say(
            "word-129",
            f"'{chain.over}' is no relation of two animals",
            chain.over_span,
            f"a step leads from one animal to the next: {several(_relations(things), 4)}",
            nearest(chain.over, _relations(things), 0.0),
        )


def _relations(things: Things) -> list[str]:
    """Every relation and truth of two animals."""
    return [
        name
        for name in things.callable()
        if [param.kind for param in things.params(name) or ()] == [Kind.ANIMAL, Kind.ANIMAL]
        and things.value_of(name) == TruthType()
    ]
