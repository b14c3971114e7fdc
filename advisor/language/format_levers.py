"""Levers as the formatter prints them."""

from __future__ import annotations

from advisor.language.format_clause import Clause, at
from advisor.language.format_expr import digits, literal, quoted, template, wrap
from advisor.language.nodes import Lever
from advisor.model.vocabulary import Param


def lever_clauses(item: Lever) -> list[Clause]:
    """Return a lever as clauses: what it moves and costs, then its sentences."""
    target = f"{item.target}({', '.join(item.args)})"
    if item.step is not None:
        way = f" {item.way.value}" if item.way.value else ""
        act = f"changes {target}{way} by {literal(item.step)}"
    else:
        act = f"makes {target}" + (f" = {item.word}" if item.word else "")
    head = f"lever {item.name}({', '.join(_param(param) for param in item.params)}) "
    found = [Clause(wrap(head, f"{act} cost {digits(item.cost)}", 4), *at(item.span))]
    found.append(Clause(wrap("  say ", quoted(template(item.say)), 6), *at(item.say.span)))
    if item.not_checked is not None:
        text = quoted(template(item.not_checked))
        found.append(Clause(wrap("  not-checked ", text, 14), *at(item.not_checked.span)))
    return found


def _param(param: Param) -> str:
    """One parameter."""
    return "tank" if param.name == "tank" else f"{param.kind.value} {param.name}"
