"""What came of the examples in the rule files."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.model.results import ExampleResult, ExamplesAnswer, MovedExample, Reason, Step
from advisor.reports.detail import reason_blocks
from advisor.reports.figures import value_text
from advisor.reports.page import Blank, Block, Labelled, Page, Part, Tone, labelled, line
from advisor.reports.wording import counted
from advisor.units import format_number

_COMPARISONS = ("compare", "within", "wordis")


def examples_page(
    answer: ExamplesAnswer, level: int = 1, *, short: bool = False, seconds: float | None = None
) -> Page:
    """Return the failed examples in full, what a house moved, then the count; level 4 names those that held.

    Parameters
    ----------
    seconds
        How long it took; not told if None. [s]
    """
    results = answer.examples
    failed = [result for result in results if not result.ok]
    blocks: list[Block] = []
    for result in results if level >= 4 else failed if level > 0 else []:
        blocks.extend(_example(result, level, short))
    for moved in answer.moved if level > 0 else ():
        blocks.extend(_moved(moved, short))
    return (*blocks, *_totals(answer, len(failed), seconds))


def _totals(answer: ExamplesAnswer, failed: int, seconds: float | None) -> Iterator[Block]:
    """The counts: of outcomes, of those that are not as expected, and of those a house moved."""
    results = answer.examples
    if not results:
        yield line("There is no example to run.", Tone.BAD)
        return
    examples = len({(result.file, result.rule, result.title) for result in results})
    total = f"{counted(examples, 'example')}, {counted(len(results), 'outcome')}"
    took = "" if seconds is None else f" ({format_number(seconds, 2)} s)"
    verdict = "all as expected" if not failed else f"{failed} not as expected"
    yield line(f"{total}: {verdict}{took}.", Tone.BAD if failed else Tone.GOOD)
    if answer.moved:
        yield line(f"The house moves {counted(len(answer.moved), 'shipped outcome')}.", Tone.OPEN)


def _moved(moved: MovedExample, short: bool) -> Iterator[Block]:
    """A shipped example that comes out otherwise with a house."""
    title = f'{moved.rule}: example "{moved.title}"'
    place = f"{moved.because_file}:{moved.because_line}"
    if short:
        by = f" ({place})" if moved.because else ""
        yield line(f"{moved.file}:{moved.line}: {title}: {moved.shipped}; here {moved.here}{by}", Tone.OPEN)
        return
    yield line(title, Tone.OPEN)
    yield line(f"{moved.file}:{moved.line}", Tone.QUIET, indent=2)
    yield labelled("shipped", moved.shipped, Tone.QUIET, indent=2)
    yield labelled("here", moved.here, Tone.QUIET, indent=2)
    if moved.because:
        yield labelled("house", f"{moved.because.strip()} ({place})", Tone.QUIET, indent=2)
    yield Blank()


def _example(result: ExampleResult, level: int, short: bool) -> Iterator[Block]:
    place = f"{result.file}:{result.line}" if result.file else ""
    title = f'{result.rule}: example "{result.title}"'
    if result.ok:
        yield labelled("ok", f"{result.rule}: {result.title}", Tone.GOOD, width=4)
        return
    if short:
        where = f"{place}: " if place else ""
        yield line(f"{where}{title}: expected {result.expected}; got {result.got}", Tone.BAD)
        return
    yield line(title, Tone.BAD)
    if place:
        yield line(place, Tone.QUIET, indent=2)
    yield labelled("expected", result.expected, Tone.QUIET, indent=2)
    yield Labelled("got", (Part(result.got, Tone.OPEN),), Tone.QUIET, 2)
    if result.reason is not None:
        yield from _compared(result.reason)
        yield from reason_blocks("", result.reason, max(level, 2))
    yield Blank()


def _compared(reason: Reason) -> Iterator[Block]:
    """Every comparison of the rule with both its sides, and what came of it."""
    for clause in reason.step.inputs if reason.step is not None else ():
        name = clause.id.rpartition("/")[2]
        for index, step in enumerate(_comparisons(clause)):
            sides = "; ".join(_side(side) for side in step.inputs)
            yield labelled("" if index else name, f"{sides}: {_came(step)}", Tone.QUIET, indent=2)


def _comparisons(step: Step) -> Iterator[Step]:
    """Every comparison below a step."""
    if step.op in _COMPARISONS:
        yield step
        return
    for below in step.inputs:
        yield from _comparisons(below)


def _side(step: Step) -> str:
    """One side of a comparison with its value."""
    value = value_text(step.value)
    return step.text if value == step.text else f"{step.text} = {value}"


def _came(step: Step) -> str:
    """What came of a comparison."""
    if step.value.truth is None:
        return f"open ({step.cause})" if step.cause else "open"
    return "yes" if step.value.truth else "no"
