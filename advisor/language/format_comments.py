"""Where comments and empty lines go when a file is printed anew: before, beside or between the clauses.

The tree does not know the line of every clause. Clauses of unknown line are
taken to lie between those around them as they are printed; comment lines and
empty ones do not count.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from advisor.language.format_clause import Clause
from advisor.language.format_lines import Lines
from advisor.language.nodes import Comment, Declaration

_BLANKS = "\ufeff \t\u00a0"


@dataclass(slots=True)
class Block:
    """One declaration, or a run of house edits, printed; with its comments."""

    item: Declaration | None
    """None for a house block that holds nothing yet."""
    clauses: list[Clause]
    start: int
    """The line of the file it begins on."""
    before: list[Comment] = field(default_factory=list)
    above: dict[int, list[tuple[str, bool]]] = field(default_factory=dict)
    """Comments on lines of their own above a clause, and whether an empty line stands above each; the
    number of clauses for the very end."""
    beside: dict[int, str] = field(default_factory=dict)
    """A comment at the end of a clause."""
    gaps: set[int] = field(default_factory=set)
    """Clauses with an empty line right above them."""

    @property
    def last(self) -> int:
        """The last line of the file this block is known to reach."""
        return max(max(clause.start, clause.end) for clause in self.clauses)

    def lines(self) -> list[str]:
        """Return the block as printed lines."""
        out: list[str] = []
        for index in range(len(self.clauses) + 1):
            above = self.above.get(index, [])
            apart = index < len(self.clauses) and self.clauses[index].apart
            for at, (text, gap) in enumerate(above):
                out += ["", f"  {text}"] if gap or (apart and not at) else [f"  {text}"]
            if index == len(self.clauses):
                break
            if out and (index in self.gaps or (apart and not above)):
                out.append("")
            out += self.clauses[index].lines
            if index in self.beside:
                out[-1] += f"  {self.beside[index]}"
        return out


def place_comments(
    blocks: list[Block], comments: Sequence[Comment], lines: Lines | None = None
) -> list[Comment]:
    """Give every comment and empty line its place in the blocks; returns the comments after the last one."""
    lines = lines or Lines()
    aside = sorted({*(each.span.line for each in comments if not trails(each)), *lines.empty()})
    ranks = {id(block): _ranks(block, aside) for block in blocks}
    for block in blocks:
        block.gaps = {index for index, each in enumerate(block.clauses) if lines.after_gap(each.start)} - {0}
    footer: list[Comment] = []
    for comment in comments:
        over = next((found for found in reversed(blocks) if found.start <= comment.span.line), None)
        beyond = (
            over is not None
            and not trails(comment)
            and comment.span.column == 1
            and comment.span.line > over.last
        )
        if over is None or beyond:
            after = next((found for found in blocks if found.start > comment.span.line), None)
            (footer if after is None else after.before).append(comment)
        elif trails(comment):
            _beside(over, comment, ranks[id(over)], aside)
        else:
            _above(over, comment, ranks[id(over)], aside, lines)
    return footer


def trails(comment: Comment) -> bool:
    """Return whether something stands before a comment on its line."""
    return bool(comment.span.text[: comment.span.column - 1].strip(_BLANKS))


def _rank(line: int, aside: Sequence[int]) -> float:
    """A line's place among the lines that hold more than a comment."""
    return line - sum(1 for other in aside if other < line)


def _ranks(block: Block, aside: Sequence[int]) -> list[float]:
    """The rank at which each clause begins, exact for a file that was printed before."""
    known: list[float | None] = [
        _rank(clause.start, aside) if clause.start else None for clause in block.clauses
    ]
    if known[0] is None:
        known[0] = _rank(block.start, aside)
    rows = [len(clause.lines) for clause in block.clauses]
    out: list[float] = []
    for index, start in enumerate(known):
        first = next(at for at in range(index, -1, -1) if known[at] is not None)
        then = next((at for at in range(index, len(known)) if known[at] is not None), None)
        low, high = known[first] or 0.0, known[then] if then is not None else None
        if start is not None:
            out.append(start)
        elif high is None:
            out.append(low + sum(rows[first:index]))
        else:
            out.append(low + (high - low) * sum(rows[first:index]) / sum(rows[first:then]))
    return out


def _above(block: Block, comment: Comment, ranks: list[float], aside: Sequence[int], lines: Lines) -> None:
    """Put a comment above the first clause that begins below it."""
    mine = _rank(comment.span.line, aside) - 0.5
    index = next((at for at in range(1, len(ranks)) if ranks[at] > mine), len(ranks))
    block.above.setdefault(index, []).append((comment.text, lines.after_gap(comment.span.line)))


def _beside(block: Block, comment: Comment, ranks: list[float], aside: Sequence[int]) -> None:
    """Put a comment at the end of the clause whose line it shares; above it if that place is taken."""
    mine = _rank(comment.span.line, aside)
    begun = [at for at, rank in enumerate(ranks) if rank <= mine]
    index = begun[-1] if begun else 0
    if index not in block.beside:
        block.beside[index] = comment.text
    else:
        block.above.setdefault(index or 1, []).append((comment.text, False))
