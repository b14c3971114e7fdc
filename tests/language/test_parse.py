"""Reading whole files: many mistakes in one run, good pieces usable, and no text that breaks it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import Severity
from advisor.language.nodes import Call, HouseEdit, Let, Not, Rule
from advisor.language.parse import EDITION, MAX_BYTES, MAX_DECLARATIONS, MOST_TOLD, parse_file
from advisor.language.pieces import MAX_PIECE
from tests.language.texts import base, codes, faults, read, rule, shipped_files, truth

WORDS = [
    "edition",
    "rule",
    "let",
    "define",
    "measure",
    "relation",
    "word",
    "prefer",
    "example",
    "card",
    "house",
    "for",
    "animal",
    "a",
    "b",
    "when",
    "expect",
    "unless",
    "level",
    "danger",
    "because",
    "matters",
    "remedy",
    "then",
    "do",
    "source",
    "kind",
    "guess",
    "given",
    "with",
    "is",
    "not",
    "one",
    "of",
    "has",
    "between",
    "and",
    "or",
    "any",
    "every",
    "where",
    "neighbour",
    "count",
    "sum",
    "larger",
    "smaller",
    "(",
    ")",
    ",",
    ".",
    "+",
    "-",
    "*",
    "/",
    ">=",
    "<=",
    ">",
    "<",
    "=",
    "3",
    "5",
    "cm",
    "PAR",
    "%",
    "2,5",
    '"x',
    "{a}",
    'y"',
    "“curly”",
    "#",
    "yes",
    "no",
    "tank",
    "otherwise",
    "until",
    "horizon",
    "light",
    "min",
    "max",
    "best",
    "to",
    "from",
    "change",
    "accept",
    "switch",
    "off",
]


def test_several_mistakes_are_found_in_one_run_and_the_good_piece_stays() -> None:
    file, problems = parse_file(
        "test.rules",
        "edition 1\nlet a-gap = 3 parsecs\nlet good = 3 cm\nrul x\nrule far\n  for animal a\n"
        "  expct size(a) > 3 cm\n"
        '  level dangr\n  because "x"\n',
    )
    assert codes(problems) == ["units-203", "word-101", "word-101", "word-101"]
    assert [item.name for item in file.declarations if isinstance(item, Let)] == ["good"]


def test_a_byte_order_mark_and_windows_lines_are_read() -> None:
    file, problems = parse_file("test.rules", "\ufeffedition 1\r\nlet good = 3 cm\r\n")
    assert problems == ()
    assert len(file.declarations) == 1


def test_spans_point_at_the_file() -> None:
    found = rule('\nrule far\n  for animal a\n  expect size(a) > 3 cm\n  level advice\n  because "{size(a)}"')
    assert found.expect is not None
    assert (found.expect.span.line, found.expect.span.column, found.expect.span.end_column) == (5, 10, 24)
    assert found.expect.span.text == "  expect size(a) > 3 cm"
    hole = found.because.pieces[0]
    assert not isinstance(hole, str)
    assert hole.span.text[hole.span.column - 1 : hole.span.end_column - 1] == "size(a)"


def test_a_megabyte_is_refused() -> None:
    file, problems = parse_file("big.rules", "#" * (MAX_BYTES + 1))
    assert file.declarations == ()
    assert codes(problems) == ["size-121"]


def test_too_many_declarations_are_refused() -> None:
    many = "edition 1\n" + "lot x\n" * 3 + "let x\n" * (MAX_DECLARATIONS + 1)
    assert "size-121" in codes(parse_file("many.rules", many)[1])


def test_a_heap_of_problems_is_told_in_part_and_counted() -> None:
    heap = "edition 1\n" + "lorem ipsum\n" * (MOST_TOLD + 50)
    problems = parse_file("heap.rules", heap)[1]
    assert codes(problems) == ["word-101"] * MOST_TOLD + ["size-124"]
    last = problems[-1]
    assert last.span is not None
    assert (last.what, last.span.line) == ("50 more problems in this file are not shown", MOST_TOLD + 2)
    assert last.severity is Severity.ERROR


def test_one_endless_declaration_is_refused() -> None:
    _, problems = parse_file("long.rules", "edition 1\ndefine x(animal a) as " + "a " * MAX_PIECE)
    assert codes(problems) == ["size-122"]


@pytest.mark.parametrize("text", ["(" * 5000, "not " * 5000, "- " * 5000, "any animal x where " * 900])
def test_deep_nesting_is_refused_and_never_breaks(text: str) -> None:
    assert codes(parse_file("deep.rules", f"edition 1\ndefine x(animal a) as {text}")[1]) != []


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("not " * 300 + "bleached(a)", "size-123"),
        ("(" * 300 + "bleached(a)" + ")" * 300, "size-123"),
        ("a" + ".spot" * 300, "size-123"),
    ],
)
def test_what_is_well_formed_but_too_deep_is_told(text: str, code: str) -> None:
    assert codes(faults(f"define x(animal a) as {text}")) == [code]


def test_a_clause_at_the_left_edge_is_told_and_read_on() -> None:
    file, problems = parse_file(
        "test.rules", 'edition 1\nrule far\nfor animal a\nexpect size(a) > 3 cm\nlevel advice\nbecause "x"\n'
    )
    assert codes(problems) == ["word-118"] * 4
    assert [type(item) for item in file.declarations] == [Rule]


def test_house_blocks_are_flattened() -> None:
    file = read("house\n  switch off x\n  switch off y\nhouse\n  switch off z\n")
    assert [item.target for item in file.declarations if isinstance(item, HouseEdit)] == ["x", "y", "z"]


def test_a_relation_may_be_said_in_words() -> None:
    plain = truth("b is down-flow of a")
    assert isinstance(plain, Call)
    assert (plain.name, len(plain.args)) == ("down-flow", 2)
    assert isinstance(truth("b is not down-flow of a"), Not)


def test_the_edition_is_kept() -> None:
    assert base().edition == EDITION


@given(st.text(max_size=300))
def test_no_text_breaks_the_parser(text: str) -> None:
    file, problems = parse_file("any.rules", text)
    assert file.name == "any.rules"
    assert all(problem.code and problem.what for problem in problems)


@given(st.lists(st.sampled_from([*WORDS, "\n", "\n  "]), max_size=60))
def test_no_heap_of_words_breaks_the_parser(words: list[str]) -> None:
    text = " ".join(words).replace(" \n ", "\n")
    file, problems = parse_file("heap.rules", text)
    assert file.declarations or problems or not text.split("#")[0].strip()


PIECES = [
    piece
    for name, text in shipped_files()
    if name in ("spacing.rules", "light.rules", "corals/large-polyp/torch.rules")
    for piece in text.split("\n\n")
    if piece[:1].isalpha()
]


@pytest.mark.parametrize("text", PIECES[::9], ids=lambda text: text.split("\n")[0][:40])
def test_every_beginning_of_a_real_piece_is_read_without_an_exception(text: str) -> None:
    for end in range(0, len(text), 3):
        file, problems = parse_file("prefix.rules", "edition 1\n" + text[:end])
        assert file.declarations or problems or not text[:end].strip() or text[:end].startswith("edition")


@pytest.mark.parametrize("text", PIECES[::17], ids=lambda text: text.split("\n")[0][:40])
def test_a_lost_character_never_breaks_the_parser(text: str) -> None:
    for at in range(0, len(text), 7):
        file, problems = parse_file("hole.rules", "edition 1\n" + text[:at] + text[at + 1 :])
        assert file.declarations or problems


def test_every_shipped_file_is_without_a_fault() -> None:
    for name, text in shipped_files():
        assert parse_file(name, text)[1] == (), name
