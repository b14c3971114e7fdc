"""A rule file printed in its one form, every comment kept; refused if anything else would change."""

from __future__ import annotations

from collections import Counter
from dataclasses import fields, is_dataclass

from advisor.errors import Problem, Span, UnusableInput
from advisor.language.format_clause import Clause
from advisor.language.format_comments import Block, place_comments
from advisor.language.format_decl import clauses
from advisor.language.nodes import Comment, Declaration, HouseEdit, Let, RuleFile, WordMeaning
from advisor.language.parse import parse_file
from advisor.model.vocabulary import Measure, Relation

_ONE_LINERS = (Let, WordMeaning, Measure, Relation)


def format_file(file: RuleFile) -> str:
    """Return the text of a parsed file in its one form.

    Formatting what was formatted changes nothing. Only the declarations in
    `file` are printed: one that could not be read is not among them, so a file
    with errors must not be overwritten.

    Raises
    ------
    UnusableInput
        If reading the printed text would not give the same tree and the same
        comments.
    """
    blocks = _blocks(file)
    footer = place_comments(blocks, file.comments)
    text = _joined(file.edition, blocks, footer)
    again, problems = parse_file(file.name, text)
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
    return text


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


def _blocks(file: RuleFile) -> list[Block]:
    """Every declaration printed; edits in a row under one ``house``."""
    blocks: list[Block] = []
    for item in file.declarations:
        printed = clauses(item)
        start = item.span.line if item.span is not None else 0
        if isinstance(item, HouseEdit):
            if blocks and isinstance(blocks[-1].item, HouseEdit):
                blocks[-1].clauses.extend(printed)
                continue
            printed = [Clause(["house"], start, start), *printed]
        blocks.append(Block(item, printed, start))
    return blocks


def _joined(edition: int, blocks: list[Block], footer: list[Comment]) -> str:
    """The whole text."""
    lines = [f"edition {edition}"]
    before: Declaration | None = None
    for block in blocks:
        close = type(before) is type(block.item) and isinstance(block.item, _ONE_LINERS) and not block.before
        lines += [] if close else [""]
        lines += _spaced(block.before, block.start)
        lines += block.lines()
        before = block.item
    if footer:
        lines += ["", *_spaced(footer, 0)]
    return "\n".join(lines) + "\n"


def _spaced(comments: list[Comment], start: int) -> list[str]:
    """Comments at the left edge, an empty line where one stood."""
    lines: list[str] = []
    for index, comment in enumerate(comments):
        following = comments[index + 1].span.line if index + 1 < len(comments) else start
        lines.append(comment.text)
        if following > comment.span.line + 1:
            lines.append("")
    return lines
