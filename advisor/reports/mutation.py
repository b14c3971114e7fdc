"""Which small changes of the rules no example notices."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.mutation import Change, MutateAnswer, Survivor
from advisor.reports.page import Blank, Block, Page, Part, Tone, Verbatim, labelled, line
from advisor.reports.wording import counted


def mutation_page(answer: MutateAnswer, level: int = 1, *, short: bool = False) -> Page:
    """Return each change nobody notices with an example that would, then the count."""
    blocks: list[Block] = []
    for survivor in answer.survivors if level > 0 else ():
        blocks.extend([_one_line(survivor.change)] if short else _survivor(survivor))
    for each in answer.same if level > 0 else ():
        blocks.append(labelled("SAME", f"{_said(each.change)}: {each.why}", Tone.QUIET, width=6))
    for text in answer.left_out if level >= 2 else ():
        blocks.append(labelled("LEFT", f"out {text}", Tone.QUIET, width=6))
    return (*blocks, *_totals(answer))


def _one_line(change: Change) -> Block:
    """A change nobody notices on one line."""
    return line(f"{change.file}:{change.line}: {_said(change)}", Tone.BAD)


def _said(change: Change) -> str:
    """A change in a line."""
    after = f" -> {change.after}" if change.after else ""
    return f"{change.thing}, {change.kind}: {change.before}{after}"


def _survivor(survivor: Survivor) -> Iterator[Block]:
    """A change nobody notices: what it is, and the block that would notice it."""
    change = survivor.change
    yield labelled(change.thing, f"{change.file}:{change.line}", width=len(change.thing) + 2)
    yield labelled(change.clause, change.before, Tone.QUIET, indent=2, width=8)
    yield labelled("changed", change.after or "left out", Tone.BAD, indent=2, width=8)
    if survivor.example:
        yield line("no example notices; this one would:", Tone.QUIET, indent=2)
        for text in survivor.example.splitlines():
            yield Verbatim((Part(text),))
    else:
        yield line("no example notices, and none was found that would", Tone.QUIET, indent=2)
    yield Blank()


def _totals(answer: MutateAnswer) -> Iterator[Block]:
    """The count of it all."""
    left = len(answer.survivors)
    tone = Tone.BAD if left else Tone.GOOD
    same = f"; {counted(len(answer.same), 'change')} would change nothing" if answer.same else ""
    yield line(
        f"{counted(answer.tried, 'change')} tried: {answer.noticed} noticed ({answer.percent:.1f} %), "
        f"{left} not{same}.",
        tone,
    )
