"""Levers out of the parser's tree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.errors import Problem
from advisor.language.build import (
    Refused,
    Site,
    amount,
    branches,
    name_of,
    named,
    params,
    template,
    tokens,
    words,
)
from advisor.language.build_words import once
from advisor.language.nodes import Lever, LeverWay, Text

if TYPE_CHECKING:
    from advisor.language.build import Branch

MOST_COST = 1000.0


def lever(site: Site, tree: Branch) -> Lever:
    """Return something a keeper can change.

    Raises
    ------
    Refused
        If it does not say what it changes, what that costs, or how it is said.
    """
    found = once(site, branches(tree)[1:], "this lever")
    for asked in (("changes", "makes"), ("cost",), ("say",)):
        if not any(key in found for key in asked):
            raise Refused(_lacking(site, tree, " or ".join(asked)))
    if "changes" in found and "makes" in found:
        site.say(
            "word-113",
            "a lever changes one thing",
            found["makes"],
            "the other one counts",
            "make two levers of it",
        )
    act = found.get("changes") or found["makes"]
    target = named(act, "lever_target")[0]
    moves = act.data == "changes"
    way = next((LeverWay(str(child)) for child in act.children if child in ("up", "down")), LeverWay.EITHER)
    return Lever(
        span=site.span(tree.children[0], tree.children[1]),
        name=name_of(tree),
        params=params(site, named(tree, "params")[0]),
        target=name_of(target),
        args=words(named(target, "words")[0]),
        target_span=site.span(target),
        cost=_cost(site, found["cost"]),
        say=_text(site, found["say"]),
        step=amount(site, named(act, "amount")[0]) if moves else None,
        way=way,
        word="" if moves or not tokens(act, "NAME") else str(tokens(act, "NAME")[0]),
        not_checked=_text(site, found["not_checked"]) if "not_checked" in found else None,
    )


def _text(site: Site, clause: Branch) -> Text:
    """The template of a clause."""
    return template(site, named(clause, "texts")[0])


def _lacking(site: Site, tree: Branch, asked: str) -> Problem:
    """The problem of a lever without one of its clauses."""
    return Problem(
        "word-114",
        f"a lever '{name_of(tree)}' has no '{asked}'",
        site.span(tree.children[0], tree.children[1]),
        f"a lever needs: {asked}",
        f"add a line: {asked.split(' or ')[0]} …",
    )


def _cost(site: Site, clause: Branch) -> float:
    """What using it costs, in no unit: only the order counts."""
    cost = float(tokens(clause, "NUMBER")[0])
    if not 0 < cost <= MOST_COST:
        what = f"cost must lie above 0 and at most at {MOST_COST:g}"
        site.say("units-205", what, clause, "only the order counts", f"cost {min(cost, MOST_COST) or 1:g}")
    return cost
