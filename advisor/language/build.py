"""What every builder needs: spans, numbers, texts and sources out of the parser's tree."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeAlias

from advisor.errors import Problem, QuantityError, Severity, Span
from advisor.language.mends import free_name
from advisor.language.nodes import Expr, Number, Text
from advisor.model.vocabulary import Grade, Kind, Param, Source
from advisor.units import to_base, unit_named

if TYPE_CHECKING:
    from lark import Token, Tree

    Branch: TypeAlias = Tree[Token]
    Leaf: TypeAlias = Token | Branch

_QUANTITY = re.compile(r"(\d+(?:\.\d+)?(?:[eE][+-]?\d+(?![\w-]))?)\s*(.*)", re.DOTALL)
_HOLE = re.compile(r"\{([^{}]*)\}")
MAX_DEPTH = 60
"""Deepest nesting of one expression; deeper is refused, never a crash."""


class Refused(Exception):  # noqa: N818  # a way out of the builder, not an error of the program
    """One piece cannot be used; the problem says why. Never leaves `parse_file`."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


@dataclass(slots=True)
class Site:
    """Where a piece stands in its file, and what was found wrong in it."""

    file: str
    shown: list[str]
    """The lines of the whole file as a message prints them."""
    first_line: int
    read_hole: Callable[[str, Span], Expr | None]
    problems: list[Problem] = field(default_factory=list)

    def span(self, start: Leaf, end: Leaf | None = None) -> Span:
        """Return the span from one leaf or branch to another."""
        line, column = _start(start)
        end_line, end_column = _end(end if end is not None else start)
        first = line + self.first_line - 1
        text = self.shown[first - 1] if 0 < first <= len(self.shown) else ""
        return Span(self.file, first, column, end_line + self.first_line - 1, end_column, text)

    def say(
        self,
        code: str,
        what: str,
        where: Leaf | Span,
        label: str = "",
        mend: str = "",
        severity: Severity = Severity.ERROR,
    ) -> None:
        """Record a problem that does not spoil the piece."""
        span = where if isinstance(where, Span) else self.span(where)
        self.problems.append(Problem(code, what, span, label, mend, severity))


def _start(leaf: Leaf) -> tuple[int, int]:
    """Line and column a leaf starts at, within its piece."""
    place = leaf if isinstance(leaf, str) else leaf.meta
    return getattr(place, "line", None) or 1, getattr(place, "column", None) or 1


def _end(leaf: Leaf) -> tuple[int, int]:
    """Line and column a leaf ends at, within its piece."""
    place = leaf if isinstance(leaf, str) else leaf.meta
    return getattr(place, "end_line", None) or 1, getattr(place, "end_column", None) or 1


def branches(tree: Branch) -> list[Branch]:
    """Return the children that are branches."""
    return [child for child in tree.children if not isinstance(child, str)]


def tokens(tree: Branch, *types: str) -> list[Token]:
    """Return the leaves of the given types."""
    return [child for child in tree.children if isinstance(child, str) and child.type in types]


def name_of(tree: Branch, index: int = 0) -> str:
    """Return the name that stands at `index` among the names of a branch."""
    return str(tokens(tree, "NAME")[index])


def named(tree: Branch, *rules: str) -> list[Branch]:
    """Return the branches made by the given grammar rules."""
    return [child for child in branches(tree) if child.data in rules]


def words(tree: Branch) -> tuple[str, ...]:
    """Return the names of a list of words."""
    return tuple(str(token) for token in tokens(tree, "NAME"))


def literal(site: Site, token: Token, negative: bool = False, where: Leaf | None = None) -> Number:
    """Return the number a token writes, its unit as written.

    Raises
    ------
    Refused
        If the number is not finite.
    """
    found = _QUANTITY.fullmatch(str(token))
    value = float(found.group(1)) if found else math.inf
    span = site.span(where if where is not None else token, token)
    if not math.isfinite(value) or abs(value) > 1e15:
        raise Refused(Problem("units-204", "this number is too large", span, "no tank holds that"))
    unit = " ".join(found.group(2).split()).replace("μ", "µ") if found else ""
    return Number(span, -value if negative else value, unit)


def amount(site: Site, tree: Branch) -> Number:
    """Return the number of an ``amount`` branch."""
    token = tokens(tree, "QUANTITY", "NUMBER")[0]
    return literal(site, token, bool(tokens(tree, "MINUS")), tree)


def band(site: Site, tree: Branch) -> tuple[Number, Number]:
    """Return both ends of a range; the lower one takes the upper one's unit if it has none."""
    low, high = (amount(site, part) for part in branches(tree))
    if not low.unit and high.unit:
        low = Number(low.span, low.value, high.unit)
    return low, high


def base(number: Number) -> float:
    """Return a literal in the base unit of its own unit."""
    if not number.unit:
        return number.value
    try:
        return to_base(number.value, unit_named(number.unit))
    except QuantityError:  # pragma: no cover - the grammar only reads known units
        return number.value


def unquoted(token: str) -> str:
    """Return a string token without its quotes."""
    return token[1:-1]


def joined(tree: Branch) -> str:
    """Return adjacent strings as one text, a space between where neither has one."""
    text = ""
    for token in tokens(tree, "STRING"):
        part = unquoted(str(token))
        gap = " " if text and part and not text[-1].isspace() and not part[0].isspace() else ""
        text += gap + part
    return text


def template(site: Site, tree: Branch) -> Text:
    """Return adjacent strings as one template, each ``{…}`` read as an expression."""
    pieces: list[str | Expr] = []
    for token in tokens(tree, "STRING"):
        _add_string(site, token, pieces)
    return Text(site.span(tree), tuple(pieces))


def _add_string(site: Site, token: Token, pieces: list[str | Expr]) -> None:
    """Append the pieces of one string to a template."""
    text = unquoted(str(token))
    if (
        pieces
        and text
        and not text[0].isspace()
        and not (isinstance(pieces[-1], str) and pieces[-1][-1:].isspace())
    ):
        _add_literal(pieces, " ")
    done = 0
    for match in _HOLE.finditer(text):
        _add_literal(pieces, text[done : match.start()])
        done = match.end()
        span = _inside(site, token, match.start(), match.end())
        hole = site.read_hole(match.group(1), span)
        if hole is None:
            _add_literal(pieces, match.group())
        else:
            pieces.append(hole)
    rest = text[done:]
    if "{" in _HOLE.sub("", text) or "}" in _HOLE.sub("", text):
        site.say("text-403", "a curly bracket has no partner", token, "every { needs its }", "{…}")
    _add_literal(pieces, rest)


def _add_literal(pieces: list[str | Expr], text: str) -> None:
    """Append literal text, joined to literal text before it."""
    if not text:
        return
    if pieces and isinstance(pieces[-1], str):
        pieces[-1] += text
    else:
        pieces.append(text)


def _inside(site: Site, token: Token, start: int, end: int) -> Span:
    """The span of a stretch of a string token, counted without its quote."""
    whole = site.span(token)
    column = whole.column + 1 + start
    return Span(whole.file, whole.line, column, whole.line, whole.column + 1 + end, whole.text)


def source(site: Site, tree: Branch) -> Source:
    """Return the source a branch names."""
    grade = Grade(str(named(tree, "grade")[0].children[0]))
    dated = "".join(str(tokens(part, "DATE", "NUMBER")[0]) for part in named(tree, "dated"))
    return Source(joined(named(tree, "texts")[0]), grade, dated)


def params(site: Site, tree: Branch) -> tuple[Param, ...]:
    """Return the parameters of a measure, relation or definition."""
    found = []
    for part in named(tree, "param"):
        kinds = named(part, "kind")
        found.append(
            Param(Kind(str(kinds[0].children[0])), name_of(part)) if kinds else Param(Kind.TANK, "tank")
        )
    names = [param.name for param in found]
    if len(set(names)) < len(names):
        mend = ", ".join(_distinct(found))
        site.say("define-802", "two parameters have one name", tree, "each needs a name of its own", mend)
    return tuple(found)


def _distinct(params: list[Param]) -> list[str]:
    """Parameters as they are written, a name that was there before made another."""
    written: list[str] = []
    taken = {param.name for param in params}
    seen: set[str] = set()
    for param in params:
        name = free_name(taken, param.name) if param.name in seen else param.name
        taken.add(name)
        seen.add(name)
        written.append("tank" if param.kind is Kind.TANK else f"{param.kind.value} {name}")
    return written
