"""Actions and handling sheets as the formatter prints them."""

from __future__ import annotations

from advisor.language.format_clause import Clause, at
from advisor.language.format_expr import quoted, source, whole, wrap
from advisor.language.nodes import Action, Handling, HandlingLine

_PAD = 9
_BODY = 2 + _PAD


def action_clauses(item: Action) -> list[Clause]:
    """Return an action as clauses: its name and title, then the other words for it."""
    found = [Clause(wrap(f"action {item.name} ", whole(item.title), 4), *at(item.span))]
    if item.also:
        found.append(Clause(wrap("  also ", ", ".join(whole(word) for word in item.also), 7)))
    return found


def handling_clauses(item: Handling) -> list[Clause]:
    """Return a handling sheet as clauses: what it is about, then its lines in their order."""
    found = [Clause(wrap(f"handling {item.name} ", whole(item.title), 4), *at(item.span))]
    about = [
        *(f"{key} {', '.join(words)}" for key, words in _about(item)),
        *(word for word, is_so in (("anything", item.anything), ("unknown", item.unknown)) if is_so),
    ]
    found.extend(Clause(wrap("  about    ", text, _BODY)) for text in about)
    for line in item.lines:
        found.append(Clause(_printed(line), *at(line.span)))
    return found


def _about(item: Handling) -> list[tuple[str, tuple[str, ...]]]:
    """The hazards and the groups, those there are."""
    return [(key, words) for key, words in (("hazard", item.hazards), ("group", item.groups)) if words]


def _printed(line: HandlingLine) -> list[str]:
    """One line: the actions on the first, the texts and the source each below."""
    head = f"  {line.kind.value} ".ljust(_BODY)
    body = " " * _BODY
    lines = wrap(head, ", ".join(line.actions), _BODY) if line.actions else []
    lines += wrap(body if lines else head, quoted(line.text), _BODY)
    if line.instead:
        by = ", ".join(line.instead_by)
        lines += wrap(
            f"{body}instead ", f"{by} {quoted(line.instead)}" if by else quoted(line.instead), _BODY + 8
        )
    if line.source is not None:
        lines += wrap(f"{body}source ", source(line.source), _BODY + 7)
    return lines
