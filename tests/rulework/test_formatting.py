"""Files put into their one form on the disk."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.rulework.formatting import format_files, format_text

UNTIDY = """edition 1
let   mine=4 cm   # of long use
rule near
   for coral c, neighbour n of c
   expect gap(c,n)>=mine
   level advice because "so"
   source "us" kind guess
"""


def test_a_file_is_written_in_its_one_form_once(tmp_path: Path) -> None:
    file = tmp_path / "house.rules"
    file.write_text(UNTIDY, encoding="utf-8")
    (first,) = format_files([file])
    assert first.changed
    text = file.read_text(encoding="utf-8")
    assert "  expect   gap(c, n) >= mine\n" in text
    assert "# of long use" in text
    (again,) = format_files([file])
    assert not again.changed
    assert file.read_text(encoding="utf-8") == text


def test_looking_writes_nothing(tmp_path: Path) -> None:
    file = tmp_path / "house.rules"
    file.write_text(UNTIDY, encoding="utf-8")
    assert format_files([tmp_path], write=False)[0].changed
    assert file.read_text(encoding="utf-8") == UNTIDY


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"edition 1\n\nrule x\n  for corl c\n", "word-"),
        (b"\xff\xfe", "files-707"),
        (b"rule \xe2\x82", "files-708"),
    ],
)
def test_a_file_with_an_error_is_left_as_it_is(tmp_path: Path, content: bytes, code: str) -> None:
    file = tmp_path / "house.rules"
    file.write_bytes(content)
    (left,) = format_files([file])
    assert left.problems[0].code.startswith(code)
    assert file.read_bytes() == content


def test_lines_end_as_one_newline(tmp_path: Path) -> None:
    file = tmp_path / "house.rules"
    file.write_bytes(b"edition 1\r\n\r\nlet mine = 4 cm\r\n")
    (done,) = format_files([file])
    assert (done.changed, done.line_ends) == (True, True)
    assert file.read_bytes() == b"edition 1\n\nlet mine = 4 cm\n"
    assert not format_files([file])[0].line_ends


def test_a_file_that_cannot_be_written_is_left_with_the_reason(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(folder: Path, name: str, text: str) -> None:
        raise PermissionError(13, "Permission denied", name)

    monkeypatch.setattr("advisor.tankfiles.store.write_atomically", refuse)
    file = tmp_path / "house.rules"
    file.write_text(UNTIDY, encoding="utf-8")
    (left,) = format_files([file])
    assert not left.changed
    assert left.problems[0].code == "files-100"
    assert "Permission denied" in left.problems[0].what


def test_a_text_is_printed_without_a_file() -> None:
    assert format_text("-", "edition 1\nlet mine=4 cm\n").text == "edition 1\n\nlet mine = 4 cm\n"
