"""Problems in files and commands: code, sentence, place, the line with its caret, one ``try``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from advisor.errors import Problem, Related, Severity, Span
from advisor.reports.clean import clean
from advisor.reports.page import Blank, Block, Labelled, Page, Part, Tone, Verbatim, labelled, line

_ROOM = 72
_TONES = {Severity.ERROR: Tone.BAD, Severity.WARNING: Tone.OPEN, Severity.NOTE: Tone.QUIET}


def problems_page(problems: Sequence[Problem], *, short: bool = False) -> Page:
    """Return all problems; `short` gives one line each."""
    if short:
        return tuple(Verbatim((Part(short_line(problem)),)) for problem in problems)
    blocks: list[Block] = []
    for problem in problems:
        if blocks:
            blocks.append(Blank())
        blocks.extend(_problem(problem))
    return tuple(blocks)


def mend_of(problem: Problem) -> str:
    """Return what to try: the problem's own mend, else to read about its code."""
    return problem.mend or f"advisor explain {problem.code}"


def short_line(problem: Problem) -> str:
    """Return one problem on one line: ``house.rules:14:11: units-201 a length is …; try: …``."""
    span = problem.span
    place = f"{span.file}:{span.line}:{span.column}: " if span is not None and span.file else ""
    return clean(f"{place}{problem.code} {problem.what}; try: {mend_of(problem)}")


def _problem(problem: Problem) -> Iterator[Block]:
    kind = "" if problem.severity is Severity.ERROR else f" ({problem.severity.value})"
    yield Labelled(
        problem.code, (Part(problem.what + kind),), _TONES[problem.severity], width=len(problem.code) + 2
    )
    if problem.span is not None:
        yield from _place(problem.span, problem.label)
    elif problem.label:
        yield line(problem.label, indent=2)
    for related in problem.related:
        yield from _related(related, problem.span)
    for index, part in enumerate(mend_of(problem).split("\n")):
        yield labelled("" if index else "try:", part, Tone.GOOD, indent=2, width=5)


def _related(related: Related, main: Span | None) -> Iterator[Block]:
    same_line = main is not None and (main.file, main.line) == (related.span.file, related.span.line)
    if main is not None and same_line and related.span.text and _shown(main) == _shown(related.span):
        yield from _caret(related.span, related.label)
        return
    yield from _place(related.span, related.label)


def _place(span: Span, label: str) -> Iterator[Block]:
    if span.file:
        place = span.file if not span.text and span.line <= 1 else f"{span.file}:{span.line}"
        if not span.text and label:
            yield Labelled(place, (Part(label),), Tone.QUIET, 2, cell_len(place) + 2)
            return
        yield line(place, Tone.QUIET, indent=2)
    if span.text:
        yield Verbatim((Part(f"  {span.line} | ", Tone.QUIET), *map(Part, _window(span))))
        yield from _caret(span, label)
    elif label:
        yield line(label, indent=2)


def _shown(span: Span) -> str:
    """The part of its line that is shown of a span."""
    return "".join(_window(span))


def _caret(span: Span, label: str) -> Iterator[Block]:
    before, marked, _ = _window(span)
    gutter = " " * len(f"  {span.line} ") + "| "
    parts = (Part(gutter, Tone.QUIET), Part(before, sign=" "), Part(marked or " ", Tone.BAD, "^"))
    end = len(gutter) + cell_len(before) + max(1, cell_len(marked))
    if label and end + 1 + cell_len(clean(label)) <= _ROOM + 8:
        yield Verbatim((*parts, Part(f" {label}")))
        return
    yield Verbatim(parts)
    if label:
        yield line(label, indent=len(gutter))


def _window(span: Span) -> tuple[str, str, str]:
    """Return the part of the line to show: before the caret, over it, and behind."""
    text = span.text.rstrip("\r\n")
    first = max(0, span.column - 1)
    last = (
        span.end_column - 1
        if span.end_line in (0, span.line) and span.end_column > span.column
        else (len(text) if span.end_line > span.line else first + 1)
    )
    before, marked, after = clean(text[:first]), clean(text[first:last]), clean(text[last:])
    room = _ROOM - len(str(span.line))
    if cell_len(before + marked + after) > room:
        before, marked, after = _cropped(before, marked, after, room)
    return before, marked, after


def _cropped(before: str, marked: str, after: str, room: int) -> tuple[str, str, str]:
    most = max(room // 2, room - cell_len(before))
    marked = marked if cell_len(marked) <= most else _head(marked, most)
    left = max(0, room - cell_len(marked)) // 2
    if cell_len(before) > left:
        before = "…" + _tail(before, left - 1)
    rest = room - cell_len(before) - cell_len(marked)
    return before, marked, after if cell_len(after) <= rest else _head(after, rest)


def _head(text: str, room: int) -> str:
    kept = text
    while kept and cell_len(kept) > room - 1:
        kept = kept[:-1]
    return kept + "…" if kept != text else text


def _tail(text: str, room: int) -> str:
    kept = text[-room:] if room > 0 else ""
    while kept and cell_len(kept) > room:
        kept = kept[1:]
    return kept
