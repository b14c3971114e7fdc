"""Mends that change no meaning: what is read before and after is the same."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.fixes import fixed
from advisor.language.format import same_tree
from advisor.language.parse import parse_file
from tests.language.texts import HERE, shipped_files

BAD = sorted((HERE / "bad").glob("*.rules"))
PASTED = {'"': "“", ">=": "≥", "<=": "≤", " - ": " – ", "is not ": "≠ ", " cm": "\u00a0cm", " PAR": "PAR"}


def mended(text: str) -> str:
    """The text after the mends, which must say the same."""
    done = fixed("a.rules", "edition 1\n" + text)
    assert done.same
    return done.text.removeprefix("edition 1\n")


@pytest.mark.parametrize(
    ("text", "now"),
    [
        ("let x = 3 cm because “it’s so”", 'let x = 3 cm because "it’s so"'),
        ("let x = 3 cm because „so“", 'let x = 3 cm because "so"'),
        ("define x(animal a) as size(a) ≥ 3 cm", "define x(animal a) as size(a) >= 3 cm"),
        ("define x(animal a) as size(a)≤3 cm", "define x(animal a) as size(a)<=3 cm"),
        ("define x(animal a) as a.group≠soft", "define x(animal a) as a.group is not soft"),
        ("define x(animal a) as size(a) – 3 cm > 3 cm", "define x(animal a) as size(a) - 3 cm > 3 cm"),
        ("define x(animal a) as y–z > 3 cm", "define x(animal a) as y - z > 3 cm"),
        ("define x(animal a) as −y > 3 cm", "define x(animal a) as -y > 3 cm"),
        ("let x =\u00a03\u202fcm", "let x = 3 cm"),
        ("let x = 40 μmol/m2/s", "let x = 40 µmol/m2/s"),
        ("let x = 40μmol/m2/s", "let x = 40 µmol/m2/s"),
        ("let x = 5cm", "let x = 5 cm"),
        ("let x = 5.5cm # 6cm, “so”", "let x = 5.5 cm # 6cm, “so”"),
        ('let x = 5 cm because "5cm ≥ – “”"', 'let x = 5 cm because "5cm ≥ – “”"'),
        ("let x = 2,5 cm", "let x = 2,5 cm"),
        ("lett x = 5 cm", "lett x = 5 cm"),
        ('let x = 3 cm because ‘a "b" c’', 'let x = 3 cm because ‘a "b" c’'),
    ],
)
def test_each_sign_is_written_as_it_is_read(text: str, now: str) -> None:
    assert mended(text) == now


def test_the_edition_is_added_with_the_line_end_of_the_file() -> None:
    done = fixed("a.rules", "\ufefflet x = 3 cm\r\nlet y = “z”\r\n")
    assert done.text == '\ufeffedition 1\r\nlet x = 3 cm\r\nlet y = "z"\r\n'
    assert [(place.line, place.code) for place in done.places] == [(1, "word-115"), (2, "paste-110")]


def test_everything_else_stays_as_it_is() -> None:
    text = "edition 1\r\n\r\n  # “a”\t\nlet  x=3   cm\rlet y = 4 cm \n\n"
    assert fixed("a.rules", text).text == text
    for name, whole in shipped_files():
        assert fixed(name, whole).places == ()


def test_places_name_what_was_and_what_is() -> None:
    done = fixed("a.rules", "edition 1\nlet x = 5cm because “so”")
    assert [(p.line, p.column, p.was, p.now) for p in done.places] == [
        (2, 10, "", " "),
        (2, 21, "“so”", '"so"'),
    ]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_no_faulty_file_says_something_else_after_it(path: Path) -> None:
    text = path.read_text(encoding="utf-8").partition("# expected")[0]
    done = fixed("a.rules", text)
    assert done.same
    before, after = parse_file("a.rules", text)[0], parse_file("a.rules", done.text)[0]
    assert same_tree(before, after)
    assert fixed("a.rules", done.text).places == ()


@given(st.sampled_from([text for name, text in shipped_files() if len(text) < 9000]), st.data())
def test_a_real_file_pasted_and_mended_says_what_it_said(text: str, data: st.DataObject) -> None:
    whole = text
    for sign, pasted in PASTED.items():
        places = [match.start() for match in re.finditer(re.escape(sign), text)]
        chosen = data.draw(st.lists(st.sampled_from(places), max_size=3)) if places else []
        for at in sorted(set(chosen), reverse=True):
            text = text[:at] + pasted + text[at + len(sign) :]
    done = fixed("a.rules", text)
    before = parse_file("a.rules", text)[0]
    after = parse_file("a.rules", done.text)[0]
    assert done.same == same_tree(before, after)
    assert done.same
    assert len(before.declarations) <= len(parse_file("a.rules", whole)[0].declarations)


@given(st.text(alphabet='let x=3cm“”"≥–\u00a0μ≠-.#\n\r ', max_size=60))
def test_any_text_is_mended_without_an_exception(text: str) -> None:
    done = fixed("a.rules", text)
    if done.same:
        assert same_tree(parse_file("a.rules", text)[0], parse_file("a.rules", done.text)[0])
