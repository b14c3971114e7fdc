"""Rule files found, read and joined; whatever is wrong with a file is told, not raised."""

from __future__ import annotations

from pathlib import Path

import pytest

import advisor.knowledge.load as load
from advisor.errors import Problem, UnusableInput
from advisor.knowledge.load import load_library, read_house, read_rules, shipped_rules

TINY = {
    "measures.rules": """edition 1

measure group(animal a) one of soft, large-polyp
  from card group  say "kind of {a}"  ask "What is {a}?"
measure light-min(animal a) in PAR between 0 and 1500 PAR step 5 PAR
  from card light-min  stricter higher  say "least light for {a}"  ask "How dim may {a} stand?"
""",
    "corals/odd.rules": """edition 1

card odd "odd coral"
  group soft
  light min 50 PAR
  source "us" kind guess
""",
}
HOUSE = """edition 1

house
  change odd light min from 50 PAR to 60 PAR
    because "it paled"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in TINY.items():
        path = tmp_path / "rules" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path / "rules"


def codes(problems: tuple[Problem, ...]) -> list[str]:
    return [problem.code for problem in problems]


def test_the_shipped_rules_load_without_a_problem() -> None:
    library, problems = load_library(None)
    assert problems == ()
    assert len(library.cards) == 117
    assert library.rules
    assert library.vocabulary.measures


def test_files_go_by_their_path_inside_the_folder_in_order(folder: Path) -> None:
    texts, problems = read_rules(folder)
    assert problems == ()
    assert [name for name, _ in texts] == ["corals/odd.rules", "measures.rules"]
    assert dict(texts) == TINY


def test_hidden_folders_and_other_files_are_left_alone(folder: Path) -> None:
    (folder / ".git").mkdir()
    (folder / ".git" / "x.rules").write_text("edition 1\n")
    (folder / "notes.txt").write_text("not a rule")
    (folder / ".hidden.rules").write_text("edition 1\n")
    assert len(read_rules(folder)[0]) == 2


def test_line_ends_and_a_byte_order_mark_make_no_difference(folder: Path) -> None:
    raw = TINY["corals/odd.rules"].replace("\n", "\r\n").encode()
    (folder / "corals" / "odd.rules").write_bytes(b"\xef\xbb\xbf" + raw)
    assert dict(read_rules(folder)[0]) == TINY


def test_a_house_file_is_laid_over_what_is_shipped(folder: Path) -> None:
    library, problems = load_library(folder, [("house.rules", HOUSE)])
    assert problems == ()
    numbers = [value.number for value in library.cards["odd"].values if value.key == "light-min"]
    assert numbers == [60.0]
    assert len(library.house) == 1


def test_a_faulty_file_is_told_and_the_rest_stays_usable(folder: Path) -> None:
    (folder / "bad.rules").write_text("edition 1\n\nlet broken 5 cm\n")
    library, problems = load_library(folder)
    assert problems
    assert {problem.span.file for problem in problems if problem.span} == {"bad.rules"}
    assert "odd" in library.cards


@pytest.mark.parametrize(
    ("name", "raw", "code", "line"),
    [
        ("latin.rules", b"edition 1\n\n# caf\xe9\n", "files-707", 3),
        ("long.rules", b"#" * (load.MOST_BYTES + 1), "files-706", 1),
    ],
)
def test_a_file_that_cannot_be_used_is_left_out_and_told(
    folder: Path, name: str, raw: bytes, code: str, line: int
) -> None:
    (folder / name).write_bytes(raw)
    texts, problems = read_rules(folder)
    assert len(texts) == 2
    assert codes(problems) == [code]
    assert problems[0].span is not None
    assert (problems[0].span.file, problems[0].span.line) == (name, line)
    assert problems[0].mend


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    assert codes(read_rules(tmp_path / "nowhere")[1]) == ["files-702"]


def test_a_folder_without_rules_is_told(tmp_path: Path) -> None:
    assert codes(read_rules(tmp_path)[1]) == ["files-703"]


def test_a_folder_of_too_many_files_is_refused(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(load, "MOST_FILES", 2)
    texts, problems = read_rules(folder)
    assert texts == ()
    assert codes(problems) == ["files-704"]


def test_too_much_text_together_is_refused(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(load, "MOST_BYTES_TOGETHER", 200)
    texts, problems = read_rules(folder)
    assert len(texts) == 1
    assert codes(problems) == ["files-704"]


def test_a_house_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    texts, problems = read_house([tmp_path / "house.rules"])
    assert texts == ()
    assert codes(problems) == ["files-705"]


def test_house_files_are_read_in_the_order_given(tmp_path: Path) -> None:
    for name in ("b.rules", "a.rules"):
        (tmp_path / name).write_text(HOUSE)
    texts, problems = read_house([tmp_path / "b.rules", tmp_path / "a.rules"])
    assert problems == ()
    assert [Path(name).name for name, _ in texts] == ["b.rules", "a.rules"]


def test_an_installation_without_rules_is_unusable(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(load, "__file__", str(tmp_path / "advisor" / "knowledge" / "load.py"))
    with pytest.raises(UnusableInput) as caught:
        shipped_rules()
    assert codes(caught.value.problems) == ["files-701"]


def test_an_installed_package_carries_its_rules_inside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "advisor" / "_rules"
    inside.mkdir(parents=True)
    monkeypatch.setattr(load, "__file__", str(tmp_path / "advisor" / "knowledge" / "load.py"))
    assert shipped_rules() == inside


def test_a_letter_cut_in_half_at_the_end_is_told_and_the_rest_read(tmp_path: Path) -> None:
    path = tmp_path / "cut.rules"
    path.write_bytes("edition 1\nlet x = 3 °".encode()[:-1])
    ((_, text),), (problem,) = read_house([path])
    assert text == "edition 1\nlet x = 3 "
    assert problem.span is not None
    assert (problem.code, problem.span.line, problem.span.column) == ("files-708", 2, 11)


def test_a_file_with_empty_bytes_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "odd.rules"
    path.write_bytes(b"edition 1\n\n\0")
    texts, (problem,) = read_house([path])
    assert texts == ()
    assert problem.span is not None
    assert (problem.code, problem.span.line) == ("files-707", 3)
