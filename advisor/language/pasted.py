"""What pasting leaves behind: curly quotes, odd signs, decimal commas; and the comments.

The grammar reads the odd signs where they stand, so that columns stay true;
here they are only found and reported. The one thing rewritten is a decimal
comma, which is an error and is read on as a point.
"""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass, field

from advisor.errors import Problem, Related, Severity, Span
from advisor.language.nodes import Comment

_STRING = r'"[^"\n]*"|“[^“”"\n]*[”“"]|„[^“”"\n]*[”“"]|"[^"\n“”]*[“”]|‘[^‘’\n]*’'
PIECES = re.compile(
    rf"(?P<string>{_STRING})|(?P<comment>#.*$)|(?P<unclosed>[\"“„‘].*$)"
    r"|(?P<comma>(?<![\w.,-])\d+,\d+(?:\.\d+)?(?![\w,]))"
    r"|(?P<compare>[≥≤≠])|(?P<dash>[–−])"
    r"|(?P<blank>[\u00a0\u202f\u2007\u200b\ufeff]+)|(?P<micro>μ)"
)
_CURLY = "“”„‘’"
_MESSAGES = {
    "quote": ("paste-110", "curly quotes were pasted from a document", 'read as "'),
    "compare": ("paste-111", "a comparison sign was pasted from a document", "read as {}"),
    "dash": ("paste-113", "a dash stands where a minus belongs", "read as -"),
    "blank": ("paste-114", "a hard space was pasted from a document", "read as a space"),
    "micro": (
        "paste-115",
        "this micro sign is the Greek letter, not the unit's",
        "read as µ",
    ),
}
_PLAIN = {"≥": ">=", "≤": "<=", "≠": "is not"}
_SHOWN = 3


@dataclass(slots=True)
class Scan:
    """The lines as they will be read, with what was noticed on the way."""

    lines: list[str]
    comments: list[Comment] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    quiet: dict[str, list[Related]] = field(default_factory=dict)


def scan(name: str, lines: list[str]) -> Scan:
    """Return the lines ready to be cut and parsed, their comments, and a problem for each kind of paste."""
    result = Scan(list(lines))
    for number, line in enumerate(lines, start=1):
        for match in PIECES.finditer(line):
            _notice(result, name, number, line, match)
    for kind, places in result.quiet.items():
        result.problems.append(_summary(name, kind, places))
    return result


def _notice(result: Scan, name: str, number: int, line: str, match: re.Match[str]) -> None:
    """Record one match of the scan."""
    found = match.group()
    span = Span(name, number, match.start() + 1, number, match.end() + 1, line)
    match match.lastgroup:
        case "comment":
            result.comments.append(Comment(span, found.rstrip()))
        case "string":
            if found[0] in _CURLY or found[-1] in _CURLY:
                _keep(result, "quote", span, _MESSAGES["quote"][2])
        case "comma":
            result.problems.append(_decimal_comma(span, found))
            kept = result.lines[number - 1]
            result.lines[number - 1] = (
                kept[: match.start()] + found.replace(",", ".", 1) + kept[match.end() :]
            )
        case "blank":
            kept = result.lines[number - 1]
            result.lines[number - 1] = kept[: match.start()] + " " * len(found) + kept[match.end() :]
            _keep(result, "blank", span, _MESSAGES["blank"][2])
        case "compare" | "dash" | "micro" as kind:
            _keep(result, kind, span, _MESSAGES[kind][2].format(_PLAIN.get(found, "")))
        case _:
            pass


def _keep(result: Scan, kind: str, span: Span, label: str) -> None:
    """Remember one place of a paste; places of one kind become one problem."""
    result.quiet.setdefault(kind, []).append(Related(span, label))


def _summary(name: str, kind: str, places: list[Related]) -> Problem:
    """Return one warning for every place where the same thing was pasted."""
    code, what, _ = _MESSAGES[kind]
    more = f" ({len(places)} places)" if len(places) > 1 else ""
    return Problem(
        code,
        what + more,
        places[0].span,
        places[0].label,
        f"advisor rules check --fix {shlex.quote(name)}",
        Severity.WARNING,
        tuple(places[1 : 1 + _SHOWN]),
    )


def _decimal_comma(span: Span, found: str) -> Problem:
    """Return the refusal of ``2,5``, with what was probably meant."""
    whole, _, rest = found.partition(",")
    mend = f"{whole}.{rest}"
    if len(rest) == 3 and whole != "0":
        mend += f"   (or {whole}{rest}, if the comma parts thousands)"
    return Problem("paste-112", "decimal comma", span, f"I read {whole}, then a comma", mend)
