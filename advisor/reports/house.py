"""Dangers that the keeper's own files keep from speaking: told at every level."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import Loosened, Verdict
from advisor.reports.page import Block, Tone, labelled
from advisor.reports.wording import listed, sentence, sentences

_LABEL = "HOUSE"
_SHORT = 2
_PLACES = 2


def loosened_blocks(loosened: Sequence[Loosened], level: int, *, accepted: bool = True) -> list[Block]:
    """Return what is said of dangers that are loosened: at level 0 which, in one line, then also by what.

    Parameters
    ----------
    accepted
        Whether those the keeper accepted are told here; at level 0 they always are.
    """
    if not loosened:
        return []
    if level == 0:
        return [labelled(_LABEL, _in_short(loosened), Tone.CAUTION)]
    told = [each for each in loosened if accepted or not each.accepted]
    return [
        labelled("" if index else _LABEL, _in_full(each), Tone.CAUTION) for index, each in enumerate(told)
    ]


def _in_short(loosened: Sequence[Loosened]) -> str:
    """Every danger by its name, and how it was loosened."""
    groups = {
        "accepted by you": [each for each in loosened if each.accepted],
        "loosened by your house file": [each for each in loosened if not each.accepted and each.shipped],
        "switched off": [each for each in loosened if not each.accepted and each.shipped is None],
    }
    return sentences(tuple(f"{how}: {_names(group)}" for how, group in groups.items() if group))


def _names(group: Sequence[Loosened]) -> str:
    """Some dangers by name with what they are about."""
    by_rule: dict[str, list[str]] = {}
    for each in group:
        by_rule.setdefault(each.rule, []).append(" and ".join(each.subjects))
    told = [f"{rule}{_about(things)}" for rule, things in by_rule.items()]
    return ", ".join(told)


def _about(things: Sequence[str]) -> str:
    """What a danger is about, in brackets."""
    named = list(dict.fromkeys(thing for thing in things if thing))
    if not named:
        return ""
    more = f" and {len(named) - _SHORT} more" if len(named) > _SHORT else ""
    return f" ({', '.join(named[:_SHORT])}{more})"


def _in_full(each: Loosened) -> str:
    """One danger with what it says as shipped and the lines by which it does not."""
    about = f" for {' and '.join(each.subjects)}" if each.subjects else ""
    where = f" at {listed(list(each.places), _PLACES)}" if each.places else ""
    if each.accepted:
        head = f"the danger {each.rule}{about} is accepted"
    elif each.shipped is None:
        head = f"the danger {each.rule} is off"
    else:
        says = "fails" if each.shipped is Verdict.FAILS else "is open"
        head = f"as shipped the danger {each.rule} {says}{about}{where}"
    return " ".join((sentence(head), sentences(each.lines)))
