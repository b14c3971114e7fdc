"""What was mended in rule files, and what was left alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from advisor.model.fixes import FileFix, FixedPlace
from advisor.reports.page import Block, Page, Tone, labelled, line
from advisor.reports.wording import counted

_WIDEST = 24


def fixes_page(fixes: Sequence[FileFix]) -> Page:
    """Return each mended file with its places, and each that was left as it was with the reason."""
    if not fixes:
        return (line("Nothing to fix: every sign is written as it is read.", Tone.QUIET),)
    blocks: list[Block] = []
    for fix in fixes:
        if fix.refused:
            blocks.append(labelled("LEFT", f"{fix.file}: {fix.refused}", Tone.OPEN, width=7))
            continue
        blocks.append(
            labelled("FIXED", f"{fix.file}: {counted(len(fix.places), 'place')}", Tone.GOOD, width=7)
        )
        told = Counter((place.line, _told(place)) for place in fix.places)
        for (number, text), times in told.items():
            more = f" ({times} times)" if times > 1 else ""
            blocks.append(labelled(str(number), text + more, Tone.QUIET, indent=2, width=6))
    return tuple(blocks)


def _told(place: FixedPlace) -> str:
    """One mend in words."""
    if not place.was:
        return "a space between number and unit" if place.now == " " else f"added: {place.now}"
    if not place.was.strip("\u00a0\u202f\u2007\u200b\ufeff"):
        return "a hard space is a plain one"
    return f"{_short(place.was)} is {_short(place.now)}"


def _short(text: str) -> str:
    """A text that fits beside another."""
    return text if len(text) <= _WIDEST else f"{text[: _WIDEST - 2]}…{text[-1]}"
