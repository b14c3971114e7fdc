"""Printing: one form, the same tree, every comment."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.errors import Span, UnusableInput
from advisor.language.format import format_file, same_tree
from advisor.language.nodes import Let, Number, RuleFile
from advisor.language.parse import parse_file
from tests.language.texts import base, errors, read, shipped_files, shipped_trees
from tests.language.trees import files

SOME = [
    index
    for index, (name, _) in enumerate(shipped_files())
    if not name.startswith("corals/") or index % 12 == 0
]


def again(text: str) -> RuleFile:
    """What was printed, read."""
    file, problems = parse_file("again.rules", text)
    assert errors(problems) == []
    return file


@pytest.mark.parametrize("index", range(len(shipped_files())), ids=lambda index: shipped_files()[index][0])
def test_a_shipped_file_is_printed_without_a_loss_and_once_is_enough(index: int) -> None:
    tree = shipped_trees()[index]
    text = format_file(tree)
    printed = again(text)
    assert same_tree(printed, tree)
    assert sorted(c.text for c in printed.comments) == sorted(c.text for c in tree.comments)
    assert format_file(printed) == text


@given(files)
@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_any_tree_is_printed_without_a_loss(tree: RuleFile) -> None:
    text = format_file(tree)
    printed = again(text)
    assert same_tree(printed, tree)
    assert format_file(printed) == text


@pytest.mark.parametrize("index", SOME, ids=lambda index: shipped_files()[index][0])
def test_comments_anywhere_are_kept_and_stay_where_they_are_put(index: int) -> None:
    name, text = shipped_files()[index]
    chance = random.Random(name)
    lines: list[str] = []
    for number, line in enumerate(text.split("\n")):
        if chance.random() < 0.1:
            lines.append(f"{'  ' if chance.random() < 0.6 else ''}# own {number}")
        lines.append(f"{line}  # beside {number}" if line.strip() and chance.random() < 0.15 else line)
    tree = again("\n".join(lines))
    once = format_file(tree)
    printed = again(once)
    assert sorted(c.text for c in printed.comments) == sorted(c.text for c in tree.comments)
    assert format_file(printed) == once


def test_a_comment_keeps_its_neighbours() -> None:
    text = format_file(
        read(
            "\n# about the rule\nrule x # name\n  for animal a\n"
            "  # why so\n  expect size(a) > 3 cm  # beside\n"
            '  level advice\n  # before because\n  because "y"\n\n# the end\n'
        )
    )
    assert text.split("\n")[2:] == [
        "# about the rule",
        "rule x  # name",
        "  for      animal a",
        "  # why so",
        "  expect   size(a) > 3 cm  # beside",
        "  level    advice",
        "  # before because",
        '  because  "y"',
        "",
        "# the end",
        "",
    ]


def test_pasted_typography_is_rewritten() -> None:
    file, problems = parse_file("x", "edition 1\nlet x = 3\u00a0cm because “so”\n")
    assert errors(problems) == []
    assert format_file(file) == 'edition 1\n\nlet x = 3 cm  because "so"\n'


def test_long_texts_are_cut_into_adjacent_ones() -> None:
    text = format_file(read(f'let x = 3 cm because "{"word " * 60}end"'))
    assert max(len(line) for line in text.split("\n")) <= 100
    assert same_tree(again(text), read(f'let x = 3 cm because "{"word " * 60}end"'))


def test_what_cannot_be_written_is_refused() -> None:
    at = Span("x", 2)
    with pytest.raises(UnusableInput, match="quote"):
        format_file(RuleFile("x", 1, (Let(at, "x", Number(at, 3.0, "cm"), 'a "quote"', None),)))
    with pytest.raises(UnusableInput, match="would change"):
        format_file(RuleFile("x", 1, (Let(at, "when", Number(at, 3.0, "cm"), "", None),)))
    with pytest.raises(UnusableInput, match="would change"):
        format_file(RuleFile("x", 1, (Let(at, "x", Number(at, 3.0, "cm"), "a\x00b", None),)))


def test_two_trees_differ_if_anything_but_their_place_does() -> None:
    first = read("let x = 3 cm")
    assert same_tree(first, read("\n\n  # note\nlet x =   3 cm"))
    assert not same_tree(first, read("let x = 4 cm"))
    assert not same_tree(first, read("let y = 3 cm"))
    assert not same_tree(base(), replace(base(), declarations=base().declarations[1:]))


@given(st.sampled_from(range(len(shipped_files()))), st.data())
@settings(max_examples=25)
def test_a_file_without_one_of_its_declarations_is_another_file(index: int, data: st.DataObject) -> None:
    tree = shipped_trees()[index]
    at = data.draw(st.integers(0, len(tree.declarations) - 1))
    less = replace(tree, declarations=tree.declarations[:at] + tree.declarations[at + 1 :])
    assert not same_tree(tree, less)
