"""What the examples of rule files reach: a line for each rule, or one rule's text with its marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.model.coverage import ConditionCover, CoverAnswer, Gap, Mark, ThingCover, tally
from advisor.reports.page import Blank, Block, Cells, Grid, Page, Part, Tone, Verbatim, labelled, line
from advisor.reports.wording import counted

_HEADS = ("", "holds", "fails", "open", "exc.", "n/c", "shown")
_LETTERS = {"true": "T", "false": "F", "unknown": "?", "taken": "x"}
_NAME = 38


def coverage_page(answer: CoverAnswer, level: int = 1) -> Page:
    """Return what the examples reach; explained things with text, marks and gaps, the others a line each."""
    blocks: list[Block] = []
    explained = [thing for thing in answer.things if thing.gaps or level >= 2]
    if any(thing.gaps for thing in answer.things) or level >= 2:
        for thing in explained if level >= 2 else answer.things:
            blocks.extend(_thing_blocks(thing))
    elif level > 0:
        blocks.extend(_matrix(answer.things))
    return (*blocks, *_totals(answer))


def _matrix(things: Sequence[ThingCover]) -> Iterator[Block]:
    """A line for each rule and preference, then for each definition."""
    speaking = [thing for thing in things if thing.kind != "definition"]
    defined = [thing for thing in things if thing.kind == "definition"]
    if speaking:
        heads = tuple(Part(head, Tone.QUIET) for head in _HEADS)
        rows = [Cells(heads), *(_row(thing) for thing in speaking)]
        yield Grid(tuple(rows), (_NAME, 5, 5, 4, 4, 3), (1, 2, 3, 4, 5))
        yield Blank()
    if defined:
        yield line("definitions", Tone.HEAD)
        yield Grid(tuple(Cells((Part(thing.name), _share(thing))) for thing in defined), (_NAME,))
        yield Blank()


def _row(thing: ThingCover) -> Cells:
    """One rule: how many outcomes of each kind, and how much is shown."""
    if thing.by_eye:
        return Cells((Part(thing.name), *(Part("") for _ in thing.verdicts), Part("by eye", Tone.QUIET)))
    return Cells((Part(thing.name), *map(_number, thing.verdicts), _share(thing)))


def _number(mark: Mark) -> Part:
    """How often a verdict came out; empty where it is not asked for."""
    if not mark.needed and not mark.seen:
        return Part("")
    return Part(str(mark.seen), Tone.BAD if mark.lacking else Tone.PLAIN)


def _share(thing: ThingCover) -> Part:
    """How much of a thing is shown."""
    found = tally(thing.marks)
    return Part(f"{found.seen}/{found.needed}", Tone.GOOD if found.seen == found.needed else Tone.OPEN)


def _thing_blocks(thing: ThingCover) -> Iterator[Block]:
    """One thing: its verdicts, its text with marks, and what is never shown."""
    yield labelled(thing.name, f"{thing.file}:{thing.line}", width=len(thing.name) + 2)
    if thing.by_eye:
        yield line("checked by eye: no example can show its outcome", Tone.QUIET, indent=2)
    elif thing.verdicts:
        told = ", ".join(f"{mark.what} {mark.seen}" for mark in thing.verdicts if mark.needed)
        yield line(told, Tone.QUIET, indent=2)
    rows = tuple(_condition(each, before) for each, before in _with_before(thing.conditions))
    if rows:
        yield Grid(rows, (9, 8))
    printed: set[str] = set()
    for gap in thing.gaps:
        yield from _gap(gap, again=gap.example in printed)
        printed.add(gap.example)
    yield Blank()


def _with_before(
    conditions: Sequence[ConditionCover],
) -> Iterator[tuple[ConditionCover, ConditionCover | None]]:
    """Each condition with the one above it."""
    return zip(conditions, (None, *conditions), strict=False)


def _condition(each: ConditionCover, before: ConditionCover | None) -> Cells:
    """One condition as written, its marks in front of it."""
    again = before is not None and before.clause == each.clause and bool(each.joined or each.depth)
    text = f"{'  ' * each.depth}{each.joined} {each.text}".rstrip() if each.joined else each.text
    lacking = any(mark.lacking for mark in each.marks)
    return Cells(
        (
            Part(marks_text(each.marks), Tone.BAD if lacking else Tone.GOOD),
            Part("" if again else each.clause, Tone.QUIET),
            Part(text),
        )
    )


def marks_text(marks: Sequence[Mark]) -> str:
    """Return the marks of a condition as letters: ``TF? +-``; a dot stands for what is never shown."""
    truths = "".join((_LETTERS[mark.what] if mark.seen else "·") for mark in marks if mark.what in _LETTERS)
    limits = "".join(
        (("+" if "met" in mark.what else "-") if mark.seen else "·")
        for mark in marks
        if mark.what not in _LETTERS
    )
    return f"{truths} {limits}".rstrip()


def _gap(gap: Gap, *, again: bool = False) -> Iterator[Block]:
    """One thing never shown, why, and the block that would show it, if it was not printed already."""
    yield Blank()
    yield labelled("never", f"{gap.what}: {gap.where}", Tone.BAD, indent=2, width=7)
    yield labelled("why", gap.why, Tone.QUIET, indent=2, width=7)
    if not gap.example:
        yield labelled("", "no example was found that would show it", Tone.QUIET, indent=2, width=7)
    elif again:
        yield labelled("", "the same example as above shows it", Tone.QUIET, indent=2, width=7)
    for text in () if again else gap.example.splitlines():
        yield Verbatim((Part(text),))


def _totals(answer: CoverAnswer) -> Iterator[Block]:
    """The count of it all."""
    if answer.failed:
        told = f"{counted(answer.failed, 'outcome')} not as expected; what they reach counts all the same."
        yield line(told, Tone.BAD)
    if answer.moved:
        told = f"{counted(answer.moved, 'shipped outcome')} otherwise because of lines of your house file"
        files = " ".join(f"--house {name}" for name in answer.moved_by)
        yield line(
            f"{told}; that is no fault. Which, and by which line: advisor rules test {files}", Tone.QUIET
        )
    total = answer.total
    full = total.seen == total.needed
    ran = f"{counted(answer.examples, 'example')}, {counted(answer.outcomes, 'outcome')}"
    yield line(
        f"Shown: {total.seen} of {total.needed} marks ({total.percent:.1f} %) by {ran}.",
        Tone.GOOD if full else Tone.OPEN,
    )
    yield line(
        "T, F, ?: a condition was true, false, unknown; + and -: a limit met and missed within a step; "
        "x: a case was taken. With names: what is never shown, why, and an example for it.",
        Tone.QUIET,
    )
