"""What came of the examples in the rule files."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import ExampleResult
from advisor.reports.detail import reason_blocks
from advisor.reports.page import Blank, Block, Labelled, Page, Part, Tone, labelled, line
from advisor.reports.wording import counted


def examples_page(results: Sequence[ExampleResult], level: int = 1, *, short: bool = False) -> Page:
    """Return the failed examples in full, then the count; level 4 names those that held, too."""
    failed = [result for result in results if not result.ok]
    blocks: list[Block] = []
    for result in results if level >= 4 else failed if level > 0 else []:
        blocks.extend(_example(result, level, short))
    total = f"{counted(len(results), 'example')}: "
    verdict = "all as expected." if not failed else f"{len(failed)} not as expected."
    if not results:
        total, verdict = "", "There is no example to run."
    return (*blocks, line(total + verdict, Tone.BAD if failed else Tone.GOOD))


def _example(result: ExampleResult, level: int, short: bool) -> list[Block]:
    place = f"{result.file}:{result.line}" if result.file else ""
    if result.ok:
        return [labelled("ok", f"{result.rule}: {result.title}", Tone.GOOD, width=4)]
    title = f'{result.rule}: example "{result.title}"'
    if short:
        where = f"{place}: " if place else ""
        return [line(f"{where}{title}: expected {result.expected}; got {result.got}", Tone.BAD)]
    blocks: list[Block] = [line(title, Tone.BAD)]
    if place:
        blocks.append(line(place, Tone.QUIET, indent=2))
    blocks.append(labelled("expected", result.expected, Tone.QUIET, indent=2))
    blocks.append(Labelled("got", (Part(result.got, Tone.OPEN),), Tone.QUIET, 2))
    if result.reason is not None:
        blocks.extend(reason_blocks("", result.reason, max(level, 2)))
    blocks.append(Blank())
    return blocks
