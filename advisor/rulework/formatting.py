"""Rule files put into their one form; a file is written whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from advisor.errors import Problem, Severity, Span, UnusableInput
from advisor.rulework.mending import rule_files


@dataclass(frozen=True, slots=True)
class Formatted:
    """What became of one file."""

    file: str
    changed: bool
    """Whether it was not in its one form."""
    text: str
    """The text in its one form; as it stood where it was left alone."""
    problems: tuple[Problem, ...] = ()
    """Why it was left alone; empty where it was not."""
    line_ends: bool = False
    """Whether its lines ended otherwise than with a single line feed."""


def format_files(paths: Sequence[Path], *, write: bool = True) -> tuple[Formatted, ...]:
    """Put the rule files, and those in folders, into their one form.

    Parameters
    ----------
    write
        False to only look which are not.

    Returns
    -------
    One entry a file. A file with an error, one that cannot be read, and one
    whose meaning or comments printing would not keep, is left as it is, with
    the reason.
    """
    return tuple(_formatted(path, write) for path in rule_files(paths))


def format_text(name: str, text: str) -> Formatted:
    """Return a text in its one form."""
    from advisor.language.format import format_file
    from advisor.language.parse import parse_file

    tree, problems = parse_file(name, text)
    errors = tuple(problem for problem in problems if problem.severity is Severity.ERROR)
    if errors:
        return Formatted(name, False, text, errors)
    try:
        printed = format_file(tree, text)
    except UnusableInput as refused:
        return Formatted(name, False, text, refused.problems)
    return Formatted(name, printed != text, printed)


def _formatted(path: Path, write: bool) -> Formatted:
    """What became of one file on the disk."""
    from advisor.knowledge.load import read_house
    from advisor.tankfiles.store import write_atomically

    name = path.as_posix()
    texts, unread = read_house((path,))
    if unread or not texts:
        return Formatted(name, False, "", unread)
    done = format_text(name, texts[0][1])
    raw = path.read_bytes().decode("utf-8")
    changed = not done.problems and raw != done.text
    if changed and write:
        own = path.resolve()
        try:
            write_atomically(own.parent, own.name, done.text)
        except OSError as fault:
            what = f"'{name}' cannot be written: {fault.strerror or fault}"
            refused = Problem("files-100", what, Span(name), mend="check that you may write it")
            return Formatted(name, False, texts[0][1], (refused,))
    return Formatted(name, changed, done.text, done.problems, changed and "\r" in raw)
