"""Problems: the caret stands under the right word, whatever the letters."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from advisor.errors import Problem, Related, Span
from advisor.language.parse import parse_file
from advisor.reports.clean import clean
from advisor.reports.printer import Look, render
from advisor.reports.problems import problems_page, short_line
from tests.reports import samples

GOLDEN = Path(__file__).parent / "golden"


def shown(span: Span, label: str = "") -> list[str]:
    return render(problems_page((Problem("word-101", "what", span, label),))).splitlines()


def test_they_read_as_they_were_approved() -> None:
    approved = (GOLDEN / "problems.txt").read_text(encoding="utf-8")
    assert render(problems_page(samples.problems())) == approved


def test_short_gives_one_line_each() -> None:
    lines = render(problems_page(samples.problems(), short=True)).splitlines()
    assert len(lines) == len(samples.problems())
    assert lines[0] == (
        "house.rules:14:11: units-201 a length is compared with an amount of light;"
        " try: did you mean crowd-distance (10 cm)?"
    )
    assert short_line(Problem("a-1", "two\nlines")) == "a-1 two lines; try: advisor explain a-1"


@given(
    before=st.text(alphabet="abc 珊瑚é\t\u0301", max_size=30),
    word=st.text(alphabet="xyz珊", min_size=1, max_size=12),
    after=st.text(alphabet="abc 珊", max_size=20),
)
def test_the_caret_stands_under_the_word(before: str, word: str, after: str) -> None:
    text = before + word + after
    span = Span("a.rules", 7, len(before) + 1, 7, len(before) + 1 + len(word), text)
    source, caret = shown(span)[2:4]
    assert cell_len(caret[: caret.index("^")]) == cell_len(source[: len("  7 | " + clean(before))])
    assert caret.count("^") == cell_len(word)


@pytest.mark.parametrize(
    ("before", "columns"),
    [
        ('let x = 3 cm because "plain" ', 29),
        ('let x = 3 cm because "珊瑚" ', 28),  # two columns each
        ('let x = 3 cm because "🐠🐟" ', 28),
        ('let x = 3 cm because "e\u0301\u0327" ', 25),  # marks above and below the letter take none
        ("let x = 3 cm because “ｆｕｌｌ” ", 32),
    ],
)
def test_the_caret_of_a_real_mistake_stands_in_the_column_counted_by_hand(before: str, columns: int) -> None:
    problems = parse_file("a.rules", f"edition 1\n{before}becuse\n")[1]
    (problem,) = (each for each in problems if each.code == "word-101")
    lines = render(problems_page((problem,))).splitlines()
    (caret,) = (each for each in lines if "^" in each)
    assert caret.index("^") == len("  2 | ") + columns
    assert caret.count("^") == len("becuse")


def test_the_caret_stands_right_behind_a_tab() -> None:
    problems = parse_file("a.rules", "edition 1\nlet x = 3 cm\tbecuse\n")[1]
    source, caret = render(problems_page(problems)).splitlines()[2:4]
    assert source.index("becuse") == caret.index("^")


def test_a_long_line_is_cropped_round_the_word() -> None:
    text = "a" * 200 + "WORD" + "b" * 200
    lines = shown(Span("a.rules", 7, 201, 7, 205, text), "this one")
    source, caret = lines[2:4]
    assert max(map(cell_len, lines)) <= 80
    assert source[caret.index("^") : caret.rindex("^") + 1] == "WORD"
    assert "…" in source


def test_a_word_longer_than_the_screen_is_cropped_too() -> None:
    lines = shown(Span("a.rules", 7, 1, 7, 301, "x" * 300), "too long")
    assert max(map(cell_len, lines)) <= 80


def test_a_long_label_goes_below_the_caret() -> None:
    lines = shown(Span("a.rules", 7, 3, 7, 5, "a bc d"), "a label of many words " * 6)
    assert lines[3].strip() == "|   ^^".replace("|   ", "|   ")
    assert max(map(cell_len, lines)) <= 80


def test_a_span_of_several_lines_marks_the_rest_of_the_first() -> None:
    lines = shown(Span("a.rules", 7, 3, 9, 2, "a bcd"))
    assert lines[3].endswith("  ^^^")


def test_a_span_without_an_end_marks_one_letter() -> None:
    assert shown(Span("a.rules", 7, 3, text="a bcd"))[3].count("^") == 1


def test_another_place_is_shown_with_its_own_line() -> None:
    related = Related(Span("corals.rules", 31, 1, 31, 4, "let x = 5 cm"), "set here")
    lines = render(problems_page((Problem("a-1", "what", related=(related,)),))).splitlines()
    assert lines[1:4] == ["  corals.rules:31", "  31 | let x = 5 cm", "     | ^^^ set here"]


def test_source_text_cannot_command_the_screen() -> None:
    text = "a \x1b[31mred\x1b[0m bad"
    span = Span("a.rules", 1, text.index("bad") + 1, 1, len(text) + 1, text)
    source, caret = shown(span)[2:4]
    assert "\x1b" not in source
    assert source[caret.index("^") :] == "bad"


def test_a_mend_of_two_lines_keeps_them_apart() -> None:
    shown = render(problems_page((Problem("a-1", "what", mend="change x from 3 cm\n  to 4 cm"),)))
    assert shown.splitlines()[1:] == ["  try: change x from 3 cm", "         to 4 cm"]


def test_what_has_no_mend_says_where_to_read_on() -> None:
    assert render(problems_page((Problem("units-207", "what"),))).splitlines()[1:] == [
        "  try: advisor explain units-207"
    ]


def test_no_problems_are_no_lines() -> None:
    assert render(problems_page(())) == ""


@pytest.mark.parametrize("before", ["é" * 99, "25 °C, ±2 ", "… and ½ × "])
def test_the_caret_stands_right_on_a_screen_that_knows_no_signs(before: str) -> None:
    text = before + "WORD" + "b" * 99
    span = Span("a.rules", 7, len(before) + 1, 7, len(before) + 5, text)
    page = problems_page((Problem("word-101", "what", span),))
    source, caret = render(page, Look(unicode=False)).splitlines()[2:4]
    assert source[caret.index("^") : caret.rindex("^") + 1] == "WORD"


def test_another_place_far_off_on_a_long_line_is_shown_with_what_stands_there() -> None:
    text = "FIRST" + "a" * 200 + "SECOND"
    main = Span("tank.yaml", 3, 206, 3, 212, text)
    related = Related(Span("tank.yaml", 3, 1, 3, 6, text), "also here")
    lines = render(problems_page((Problem("a-1", "what", main, related=(related,)),))).splitlines()
    marks = [(lines[at - 1], each) for at, each in enumerate(lines) if "^" in each]
    assert [s[c.index("^") : c.rindex("^") + 1] for s, c in marks] == ["SECOND", "FIRST"]
