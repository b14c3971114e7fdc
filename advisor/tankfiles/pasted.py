"""A pasted list of corals, one a line: ``torch, 8 cm, 110 PAR``."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.errors import QuantityError, Span
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.tidied import LIGHT_WORD, tidied_line
from advisor.units import Dimension, parse_quantity

_COPIES = re.compile(r"^(\d{1,2})\s*[x×]\s*(?=\D)|\s*[x×]\s*(\d{1,2})$")
_BULLET = re.compile(r"^\s*(?:[-*•]+|\d{1,2}[.)](?!\d))\s*")
_ARTICLE = re.compile(r"^(?:an?|the)\s+(?=\S)", re.IGNORECASE)
_NUMBER = r"\d+(?:\.\d+)?"
_TAIL = re.compile(rf"\s+([~<>]?\s*{_NUMBER}(?:\s*(?:-|–|to)\s*{_NUMBER})?\s*[A-Za-zµ\"][\w/²\"]*)$")
_AMOUNT = re.compile(r"^[~<>]?\s*\d")
_LIGHT_PLACE = 3
"""The place of a line where the light it comes from is asked for."""
_UNSURE = frozenset({"?", "unknown", "don't know", "dont know", "don’t know", "do not know", "no idea"})


@dataclass(frozen=True, slots=True)
class PastedCoral:
    """What one line tells of a coral; texts as written, empty where not told."""

    called: str
    size: str = ""
    comes_from: str = ""
    light_word: str = ""
    flow_word: str = ""
    note: str = ""
    copies: int = 1
    remarks: tuple[str, ...] = ()
    """What was read otherwise than it is written."""


def parse_coral_line(text: str) -> PastedCoral:
    """Return what one line tells: what it is first, then size, light and words in any order.

    Examples
    --------
    >>> coral = parse_coral_line("2x torch, 8 cm, 110 PAR")
    >>> coral.called, coral.size, coral.comes_from, coral.copies
    ('torch', '8 cm', '110 PAR', 2)
    """
    tidied = tidied_line(_BULLET.sub("", text).strip())
    head, *parts = [p.strip() for p in re.split(r"\s*[,;\t|]\s*|\s*:\s+", tidied.text)]
    head, tails = _without_tails(head)
    copies = _COPIES.search(head)
    told = {"called": _ARTICLE.sub("", _COPIES.sub("", head).strip())}
    for place, part in enumerate([*tails, *parts], start=2):
        if part and part.lower() not in _UNSURE:
            _take(part, told, place)
    number = int(copies.group(1) or copies.group(2)) if copies else 1
    return PastedCoral(**told, copies=max(1, number), remarks=tidied.remarks)


def _take(part: str, told: dict[str, str], place: int) -> None:
    """Keep one part of a line: a lone word for light counts behind the size or in the third place."""
    kind = _kind_of(part)
    if kind == "note" and LIGHT_WORD.match(part) and ("size" in told or place >= _LIGHT_PLACE):
        kind = "light_word"
    if kind == "note" or kind in told:
        told["note"] = f"{told['note']}, {part}" if "note" in told else part
    else:
        said = re.sub(r"\s*\b(?:light|flow)\b\s*", "", part, flags=re.IGNORECASE)
        told[kind] = said if "word" in kind else part


def _without_tails(head: str) -> tuple[str, list[str]]:
    """Part sizes and light that follow without a comma from the name: ``torch 8cm 110 PAR``."""
    tails: list[str] = []
    while (tail := _TAIL.search(head)) is not None and _kind_of(tail.group(1).strip()) != "note":
        head, tails = head[: tail.start()].strip(), [tail.group(1).strip(), *tails]
    return head, tails


def _kind_of(part: str) -> str:
    if _AMOUNT.match(part):
        last = re.split(r"\s*(?:-|–|\bto\b|±)\s*", part.lstrip("~<> "))[-1]
        try:
            dimension = parse_quantity(last).unit.dimension
        except QuantityError:
            return "note"
        return {Dimension.LENGTH: "size", Dimension.LIGHT: "comes_from"}.get(dimension, "note")
    lowered = part.lower()
    if re.search(r"\blight\b", lowered):
        return "light_word"
    return "flow_word" if re.search(r"\bflow\b", lowered) else "note"


def parse_coral_list(text: str, ledger: Ledger, file: str = "list") -> tuple[PastedCoral, ...]:
    """Return every coral of a pasted list; blank, unsure and # lines are skipped, nameless ones noted."""
    corals = []
    for number, line in enumerate(text.splitlines(), start=1):
        bare = _BULLET.sub("", line).strip()
        if not bare or bare.lower() in _UNSURE or line.lstrip().startswith("#"):
            continue
        coral = parse_coral_line(line)
        if coral.called and not _AMOUNT.match(coral.called):
            corals.append(coral)
        else:
            ledger.note(
                "key-123",
                "this line does not begin with what the coral is",
                Span(file, number, 1, number, len(line) + 1, line),
                mend="torch, 8 cm, 110 PAR",
            )
    return tuple(corals)


def told_of(coral: PastedCoral, otherwise: str = "") -> dict[str, object]:
    """Return the keys of a tank file that a coral's line fills; `otherwise` is what it is where unnamed."""
    says = {k: v for k, v in (("light", coral.light_word), ("flow", coral.flow_word)) if v}
    told = {
        "is": coral.called or otherwise,
        "size": coral.size,
        "comes from": coral.comes_from,
        "seller says": says,
        "note": coral.note,
    }
    return {key: value for key, value in told.items() if value}
