"""A rule file printed in its one form, every comment kept; refused if anything else would change."""

from __future__ import annotations

from collections import Counter
from dataclasses import fields, is_dataclass

from advisor.errors import Problem, Span, UnusableInput
from advisor.language.format_clause import Clause
from advisor.language.format_comments import Block, place_comments, trails
from advisor.language.format_decl import clauses
from advisor.language.format_lines import Lines
from advisor.language.nodes import Comment, Declaration, HouseEdit, Let, RuleFile, WordMeaning
from advisor.language.parse import parse_file
from advisor.model.vocabulary import Measure, Relation

_ONE_LINERS = (Let, WordMeaning, Measure, Relation)


def format_file(file: RuleFile, text: str = "") -> str:
    """Return the text of a parsed file in its one form.

    Formatting what was formatted changes nothing. Only the declarations in
    `file` are printed: one that could not be read is not among them, so a file
    with errors must not be overwritten.

    Parameters
    ----------
    file
        What was read.
    text
        The text it was read from, for the empty lines between its parts, of
        which one is kept; without it there are only those between declarations.

    Raises
    ------
    UnusableInput
        If reading the printed text would not give the same tree and the same
        comments.
    """
    lines = Lines.of(text)
    blocks = _blocks(file, lines)
    head, comments = _edition(file, lines)
    footer = place_comments(blocks, comments, lines)
    printed = _joined(head, blocks, footer, lines)
    again, problems = parse_file(file.name, printed)
    errors = tuple(problem for problem in problems if problem.severity.value == "error")
    if errors or not same_tree(again, file) or _comments(again) != _comments(file):
        raise UnusableInput(
            "the formatter would change what this file says, so it is left alone",
            errors
            or (
                Problem(
                    "format-902",
                    "printing this file would not keep it as it is",
                    Span(file.name),
                    mend="report the file; it stays untouched",
                ),
            ),
        )
    return printed


def same_tree(a: object, b: object) -> bool:
    """Return whether two trees say the same; where they stand and their comments do not count."""
    if isinstance(a, Span) or isinstance(b, Span):
        return True
    if type(a) is not type(b):
        return False
    if isinstance(a, tuple) and isinstance(b, tuple):
        return len(a) == len(b) and all(same_tree(x, y) for x, y in zip(a, b, strict=True))
    if is_dataclass(a) and not isinstance(a, type):
        return all(
            same_tree(getattr(a, part.name), getattr(b, part.name))
            for part in fields(a)
            if part.name not in ("span", "name_span", "comments", "name")
            or (part.name == "name" and not isinstance(a, RuleFile))
        )
    return a == b


def _comments(file: RuleFile) -> Counter[str]:
    """The comments of a file, however often each."""
    return Counter(comment.text.rstrip() for comment in file.comments)


# --- blocks of printed clauses ------------------------------------------------------


def _blocks(file: RuleFile, lines: Lines) -> list[Block]:
    """Every declaration printed; edits in a row under one ``house``, as many of those as were written."""
    houses = lines.starting("house")
    blocks: list[Block] = []
    for item in file.declarations:
        printed = clauses(item)
        start = item.span.line if item.span is not None else 0
        if isinstance(item, HouseEdit):
            head = max((line for line in houses if line <= start), default=0)
            if blocks and isinstance(blocks[-1].item, HouseEdit) and head <= blocks[-1].start:
                blocks[-1].clauses.extend(printed)
                continue
            start = head or start
            printed = [Clause(["house"], start, start), *printed]
        blocks.append(Block(item, printed, start))
    begun = {block.start for block in blocks}
    empty = [Block(None, [Clause(["house"], line, line)], line) for line in houses if line not in begun]
    if empty:
        blocks = sorted([*blocks, *empty], key=lambda block: block.start)
    ends = [block.start for block in blocks[1:]] + [len(lines.texts) + 1]
    for block, end in zip(blocks, ends, strict=True):
        lines.locate(block.clauses, end)
    return blocks


def _edition(file: RuleFile, lines: Lines) -> tuple[list[str], list[Comment]]:
    """The first lines, with what is remarked above and beside the edition; and the other comments."""
    at = min(lines.starting("edition"), default=0)
    above = [comment for comment in file.comments if comment.span.line < at and not trails(comment)]
    beside = [comment for comment in file.comments if comment.span.line == at]
    rest = [comment for comment in file.comments if comment not in above and comment not in beside]
    line = "  ".join((f"edition {file.edition}", *(comment.text for comment in beside)))
    return [*_spaced(above, at), line], rest


def _joined(head: list[str], blocks: list[Block], footer: list[Comment], lines: Lines) -> str:
    """The whole text."""
    out = list(head)
    before: Declaration | None = None
    for block in blocks:
        close = (
            type(before) is type(block.item)
            and isinstance(block.item, _ONE_LINERS)
            and not block.before
            and not lines.after_gap(block.start)
        )
        out += [] if close else [""]
        out += _spaced(block.before, block.start)
        out += block.lines()
        before = block.item
    if footer:
        out += ["", *_spaced(footer, 0)]
    return "\n".join(out) + "\n"


def _spaced(comments: list[Comment], start: int) -> list[str]:
    """Comments at the left edge, an empty line where one stood."""
    lines: list[str] = []
    for index, comment in enumerate(comments):
        following = comments[index + 1].span.line if index + 1 < len(comments) else start
        lines.append(comment.text)
        if following > comment.span.line + 1:
            lines.append("")
    return lines
