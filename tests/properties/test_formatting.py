"""Whatever stands in a rule file, printing it loses nothing, and once is enough."""

from __future__ import annotations

import re
from collections import Counter

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.language.format import format_file, same_tree
from advisor.language.nodes import RuleFile
from advisor.language.parse import parse_file
from tests.language.declaration_trees import mixed_files
from tests.language.texts import errors, shipped_files

SLOW = settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
TOKEN = re.compile(
    r'"[^"\n]*"|#.*|[-(]*\d[\d.]* [^\s"]+|[^\s"]*(?:larger|smaller|count|sum|least|most) of|[^\s"]+'
)
"""A word, a text, a comment, ``larger of``, or a number with its unit: what is read as one."""
HALVES = ("larger", "smaller", "count", "sum", "least", "most")
"""Words whose ``of`` may stand on the next line."""


def read(text: str) -> RuleFile:
    """What a text says; it must be without an error."""
    file, problems = parse_file("again.rules", text)
    assert errors(problems) == [], text
    return file


def commented(file: RuleFile) -> Counter[str]:
    """The comments of a file, however often each."""
    return Counter(each.text for each in file.comments)


def require_kept(text: str) -> str:
    """Print a text twice; nothing may be lost, and the second time nothing may change."""
    file = read(text)
    once = format_file(file, text)
    printed = read(once)
    assert same_tree(printed, file)
    assert commented(printed) == commented(file)
    assert format_file(printed, once) == once
    return once


@given(mixed_files)
@SLOW
def test_any_tree_is_printed_without_a_loss(tree: RuleFile) -> None:
    text = format_file(tree)
    assert same_tree(read(text), tree)
    assert require_kept(text) == text


def with_comments(text: str, data: st.DataObject) -> str:
    """The text with comments after some of its words, beside them or on lines of their own.

    What follows a comment within a line goes on deeper than any line of a card
    begins, so that it stays the same line. What a card or an edition begins with
    is not parted: the next line would set how deep all others stand.
    """
    out: list[str] = []
    places = data.draw(st.sets(st.integers(0, len(TOKEN.findall(text)) - 1), min_size=1, max_size=6))
    count = 0
    for line in text.split("\n"):
        made, last = "", 0
        for found in TOKEN.finditer(line):
            rest = line[found.end() :].strip()
            made, last = made + line[last : found.end()], found.end()
            parted = made.endswith(HALVES) or (rest and line.startswith(("edition", "card")))
            if count in places and not parted:
                own = data.draw(st.sampled_from(("  ", "\n", "\n\n", "\n    ", "\n\n  ")))
                made += f"{own}# note {count}" + ("\n" + " " * 40 if rest else "")
                made += "" if rest else data.draw(st.sampled_from(("", "\n")))
            count += 1
        out.append(made + line[last:])
    return "\n".join(out)


@given(mixed_files, st.data())
@SLOW
def test_comments_between_any_two_words_are_kept(tree: RuleFile, data: st.DataObject) -> None:
    require_kept(with_comments(format_file(tree), data))


@given(st.sampled_from(shipped_files()), st.data())
@SLOW
def test_comments_anywhere_in_a_shipped_file_are_kept(shipped: tuple[str, str], data: st.DataObject) -> None:
    require_kept(with_comments(shipped[1], data))


@given(mixed_files, st.data())
@SLOW
def test_how_a_file_is_laid_out_does_not_matter(tree: RuleFile, data: st.DataObject) -> None:
    text = format_file(tree)
    wide = re.sub(r"(?<=\S)  +(?=\S)", lambda _: " " * data.draw(st.integers(1, 5)), text)
    if all(len(line) == len(other) for line, other in zip(wide.split("\n"), text.split("\n"), strict=True)):
        return
    assert format_file(read(wide), wide) == text
