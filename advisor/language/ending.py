"""A file that was cut off: what is wrong in its last piece says that the file ends there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.errors import Problem, Related, Severity, Span

_HERE = "the file ends here"


def told_of_the_end(problems: Sequence[Problem], name: str, shown: Sequence[str]) -> list[Problem]:
    """Return the problems, those at the end of a file without a last line end saying so.

    A file that a program or a person wrote to its end closes its last line. One
    that does not may have been cut off, so that a mistake there is no slip.
    """
    told = list(problems)
    last = shown[-1].rstrip() if shown else ""
    if not last:
        return told
    end = Span(name, len(shown), len(last) + 1, len(shown), len(last) + 2, shown[-1])
    start = _last_piece(shown)
    own = [index for index, problem in enumerate(told) if _in_piece(problem, start)]
    at_end = [index for index in own if _reaches(told[index].span, end)]
    for index in at_end:
        label = told[index].label
        told[index] = replace(told[index], label=f"{_HERE}; {label}" if label else _HERE)
    if own and not at_end:
        index = own[-1]
        told[index] = replace(told[index], related=(*told[index].related, Related(end, _HERE)))
    return told


def _last_piece(shown: Sequence[str]) -> int:
    """The line the last piece starts on."""
    starting = (number for number, line in enumerate(shown, 1) if line[:1] not in ("", " ", "\t", "#"))
    return max(starting, default=1)


def _in_piece(problem: Problem, start: int) -> bool:
    """Whether a problem is an error of the last piece."""
    return problem.severity is Severity.ERROR and problem.span is not None and problem.span.line >= start


def _reaches(span: Span | None, end: Span) -> bool:
    """Whether a place reaches to the end of the file."""
    return span is not None and (span.end_line or span.line) == end.line and span.end_column >= end.column
