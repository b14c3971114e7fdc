"""What to write where the layout of a file cannot be read; a line is shown only if it helps."""

from __future__ import annotations

import re
from collections.abc import Iterator

MOST_TRIED = 50_000
"""Longest text in characters that lines are tried in; a longer one would take too long."""
_VALUE = re.compile(r"(\s*(?:-\s+)?[^\s:#\"'\[{][^:#\"'\[{]*:\s+)(\S.*?)\s*")
_NO_COLON = re.compile(r"(\s*(?:-\s+)?[a-z][\w-]*)(?:\s+(\S.*?))?\s*", re.IGNORECASE)
_ESCAPE = re.compile(r"\\U[0-9A-Fa-f]{8}")
_LAST_CHARACTER = 0x10FFFF


def line_to_try(text: str, at: int) -> str:
    """Return a line that mends the layout, written out, or nothing if none is found.

    Parameters
    ----------
    text
        The whole file.
    at
        Index of the line the reader stumbled over. It and the line above are tried;
        the one above is shown with its number.
    """
    lines = text.splitlines()
    if len(text) > MOST_TRIED or not lines:
        return ""
    at = min(at, len(lines) - 1)
    for index in (at, at - 1):
        for line in _ways(lines[index]) if index >= 0 else ():
            tried = "\n".join((*lines[:index], line, *lines[index + 1 :]))
            if _stops_at(f"{tried}\n") > at:
                return line.strip() if index == at else f"line {index + 1}: {line.strip()}"
    return ""


def no_character(text: str) -> tuple[int, str]:
    r"""Return where a ``\U…`` stands for no character, and how it is written; -1 if nowhere."""
    for found in _ESCAPE.finditer(text):
        if int(found.group()[2:], 16) > _LAST_CHARACTER:
            return found.start(), found.group()
    return -1, ""


def _ways(line: str) -> Iterator[str]:
    """What may have been meant by a line, likeliest first."""
    whole = line.rstrip()
    for opened, closed in ("[]", "{}"):
        yield whole + closed * max(0, whole.count(opened) - whole.count(closed))
    for quote in ('"', "'"):
        if whole.count(quote) % 2:
            yield whole + quote
    found = _VALUE.fullmatch(line)
    if found is not None and found.group(2).startswith("- "):
        yield f"{found.group(1)}[{found.group(2)[2:]}]"
    if found is not None and found.group(2)[0] not in "[{":
        yield found.group(1) + _quoted(found.group(2))
    bare = _NO_COLON.fullmatch(line)
    if bare is not None:
        yield f"{bare.group(1)}: {bare.group(2) or ''}".rstrip()


def _quoted(value: str) -> str:
    """A value in quotes, in single ones where it holds signs that double ones would read."""
    if value[0] == value[-1] == '"' and len(value) > 1:
        value = value[1:-1]
    if '"' in value or "\\" in value:
        return "'" + value.replace("'", "''") + "'"
    return f'"{value}"'


def _stops_at(text: str) -> int:
    """The line the reader stumbles over, one past the end where it does not."""
    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        for _ in YAML(typ="safe", pure=True).parse(text):
            pass
    except MarkedYAMLError as fault:
        mark = fault.problem_mark or fault.context_mark
        begun = fault.context_mark or mark
        return -1 if mark is None else min(mark.line, begun.line)
    except (YAMLError, ValueError, OverflowError, RecursionError):
        return -1
    return text.count("\n") + 1
