"""What no rule can judge and a person must look at, animals that want the same look named together."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from advisor.language.nodes import Stage
from advisor.planning.bench import RulePlane, Sitting
from advisor.reasoning.judge import BY_EYE

MOST_NAMED = 8
"""Things named in one line; the rest are counted."""


def looks(sitting: Sitting, row: int | None = None) -> tuple[str, ...]:
    """Return what is to be checked by eye, one sentence for each rule and what it is about.

    Parameters
    ----------
    row
        Row of the one animal that is asked about; None for the whole tank as
        it is, without what is only looked at on a first night.
    """
    rules = [
        compiled
        for compiled in sitting.bench.rules
        if compiled.expect is None and (row is not None or compiled.rule.stage is not Stage.TONIGHT)
    ]
    planes = sitting.judge(rules, ahead=False)
    return tuple(dict.fromkeys(text for plane in planes for text in _of_rule(plane, sitting, row)))


def _of_rule(plane: RulePlane, sitting: Sitting, row: int | None) -> list[str]:
    """The sentences of one rule; those that differ in the first thing bound are one, with all names."""
    bindings, binders = plane.now.bindings, plane.compiled.binders
    keep = plane.now.verdict == BY_EYE
    if row is None:
        keep &= bindings.worlds == 0
    else:
        own = np.zeros(len(bindings), np.bool_)
        for binder in binders:
            if binder.kind.lives:
                own |= bindings.rows[binder.name] == row
        keep &= own
    together: dict[tuple[str, ...], dict[str, None]] = {}
    for at in np.flatnonzero(keep).tolist():
        names = [sitting.tables.label(binder.kind, int(bindings.rows[binder.name][at])) for binder in binders]
        together.setdefault(tuple(names[1:]), {}).setdefault(names[0])
    return [_said(plane, (_listed(list(first)), *others)) for others, first in sorted(together.items())]


def _said(plane: RulePlane, names: Sequence[str]) -> str:
    """The requirement of a rule with its things named."""
    known = {binder.name: name for binder, name in zip(plane.compiled.binders, names, strict=True)}
    pieces = plane.compiled.by_eye.pieces
    return "".join(piece if isinstance(piece, str) else known[getattr(piece, "var", "")] for piece in pieces)


def _listed(names: list[str]) -> str:
    """Names as a sentence lists them; those beyond some are counted."""
    names = sorted(names)
    if len(names) > MOST_NAMED:
        names = [*names[: MOST_NAMED - 1], f"{len(names) - MOST_NAMED + 1} more"]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
