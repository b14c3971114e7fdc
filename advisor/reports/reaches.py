"""What each rule must be asked about: every animal, near pairs, all pairs, or the tank once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from advisor.reports.page import Block, Cells, Grid, Part, Tone, labelled
from advisor.reports.wording import counted

_OF = {
    "near pairs": "of every two animals near enough to each other",
    "all pairs": "of every two animals",
    "each animal": "of each animal",
    "once per tank": "once of the whole tank",
    "each place": "of each place",
}


def reach_lines(reaches: Sequence[tuple[str, str]], *, each: bool) -> tuple[Block, ...]:
    """Return how far the rules see: counted, or (`each`) rule by rule."""
    if not reaches:
        return ()
    if each:
        rows = tuple(Cells((Part(name), Part(text, Tone.QUIET))) for name, text in reaches)
        return (Grid(rows, (50,)),)
    counts = Counter("near pairs" if text.startswith("within") else text for _, text in reaches)
    listed = ", ".join(
        f"{counted(count, 'rule')} {_OF.get(text, text)}" for text, count in sorted(counts.items())
    )
    return (labelled("ASKED", f"{listed}: --level 2", Tone.QUIET),)
