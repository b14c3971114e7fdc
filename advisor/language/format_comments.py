"""Where each comment goes when a file is printed anew: before, beside or between the printed clauses.

The tree does not know the line of every clause. Clauses of unknown line are
taken to lie between those around them as they are printed; comment lines do
not count.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from advisor.language.format_clause import Clause
from advisor.language.nodes import Comment, Declaration

_BLANKS = "\ufeff \t\u00a0"


@dataclass(slots=True)
class Block:
    """One declaration, or a run of house edits, printed; with its comments."""

    item: Declaration
    clauses: list[Clause]
    start: int
    """The line of the file it begins on."""
    before: list[Comment] = field(default_factory=list)
    above: dict[int, list[str]] = field(default_factory=dict)
    """Comments on lines of their own above a clause; the number of clauses for the very end."""
    beside: dict[int, str] = field(default_factory=dict)
    """A comment at the end of a clause."""

    @property
    def last(self) -> int:
        """The last line of the file this block is known to reach."""
        return max(max(clause.start, clause.end) for clause in self.clauses)

    def lines(self) -> list[str]:
        """Return the block as printed lines."""
        out: list[str] = []
        for index, clause in enumerate(self.clauses):
            out += [f"  {text}" for text in self.above.get(index, ())]
            out += clause.lines
            if index in self.beside:
                out[-1] += f"  {self.beside[index]}"
        return out + [f"  {text}" for text in self.above.get(len(self.clauses), ())]


def place_comments(blocks: list[Block], comments: Sequence[Comment]) -> list[Comment]:
    """Give every comment its place in the blocks; returns those that come after the last one."""
    own = sorted(comment.span.line for comment in comments if not _trails(comment))
    ranks = {id(block): _ranks(block, own) for block in blocks}
    footer: list[Comment] = []
    for comment in comments:
        block = next((found for found in reversed(blocks) if found.start <= comment.span.line), None)
        beyond = (
            block is not None
            and not _trails(comment)
            and comment.span.column == 1
            and (comment.span.line > block.last)
        )
        if block is None or beyond:
            after = next((found for found in blocks if found.start > comment.span.line), None)
            (footer if after is None else after.before).append(comment)
        elif _trails(comment):
            _beside(block, comment, ranks[id(block)], own)
        else:
            _above(block, comment, ranks[id(block)], own)
    return footer


def _trails(comment: Comment) -> bool:
    """Whether something stands before a comment on its line."""
    return bool(comment.span.text[: comment.span.column - 1].strip(_BLANKS))


def _rank(line: int, own: Sequence[int]) -> float:
    """A line's place among the lines that are no comments."""
    return line - sum(1 for other in own if other < line)


def _ranks(block: Block, own: Sequence[int]) -> list[float]:
    """The rank at which each clause begins, exact for a file that was printed before."""
    known: list[float | None] = [
        _rank(clause.start, own) if clause.start else None for clause in block.clauses
    ]
    if known[0] is None:
        known[0] = _rank(block.start, own)
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


def _above(block: Block, comment: Comment, ranks: list[float], own: Sequence[int]) -> None:
    """Put a comment above the first clause that begins below it."""
    mine = _rank(comment.span.line, own) - 0.5
    index = next((at for at in range(1, len(ranks)) if ranks[at] > mine), len(ranks))
    block.above.setdefault(index, []).append(comment.text)


def _beside(block: Block, comment: Comment, ranks: list[float], own: Sequence[int]) -> None:
    """Put a comment at the end of the clause whose line it shares; above it if that place is taken."""
    words = comment.span.text[: comment.span.column - 1].strip(_BLANKS).split()
    mine = _rank(comment.span.line, own)
    alike = [
        at
        for at, clause in enumerate(block.clauses)
        if any(line.split()[:1] == words[:1] for line in clause.lines)
    ]
    begun = [at for at, rank in enumerate(ranks) if rank <= mine]
    index = min(alike, key=lambda at: abs(ranks[at] - mine)) if alike else (begun[-1] if begun else 0)
    if index not in block.beside:
        block.beside[index] = comment.text
    elif index:
        block.above.setdefault(index, []).append(comment.text)
    else:
        block.above.setdefault(1, []).append(comment.text)
