"""Drafts are sound as they stand, and go where they belong."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import UnusableInput
from advisor.rulework.checking import check_rules
from advisor.rulework.formatting import format_files
from advisor.rulework.proving import run_examples
from advisor.rulework.scaffold import new_card, new_rule, require_target
from advisor.session.opening import library_in_force, usable

WHOM = (
    "coral c, neighbour n of c",
    "animal a, neighbour b of a",
    "coral c",
    "animal a",
    "place p",
    "tank",
    "lamp l",
    "pump p",
    "fish f",
    "animal a, weapon w of a",
    "lamp l, place p",
    "place p, animal a",
    "lamp l, animal a",
)


@pytest.mark.parametrize("about", WHOM)
def test_a_rule_checks_clean_and_its_examples_come_out(about: str, tmp_path: Path) -> None:
    file = tmp_path / "own.rules"
    draft = new_rule("my-draft", about, file, house=())
    assert file.read_text(encoding="utf-8").splitlines()[draft.line - 1] == "rule my-draft"
    assert check_rules(house=[file])[0] == ()
    results = run_examples([file], house=[file]).examples
    assert [(each.ok, each.got.split()[0]) for each in results] == [(True, "holds"), (True, "fails")]


def test_a_card_checks_clean_and_every_line_of_it_can_be_filled_in(tmp_path: Path) -> None:
    file = tmp_path / "own.rules"
    new_card("my-brain", "my brain", "Platygyra lamellina", "large-polyp", file, house=())
    assert check_rules(house=[file])[0] == ()
    assert check_rules(house=[file])[1]["card"] == check_rules()[1]["card"] + 1


def test_what_stands_in_a_file_stays_there(tmp_path: Path) -> None:
    file = tmp_path / "own.rules"
    file.write_text("edition 1\n\nlet mine = 4 cm  # of long use\n", encoding="utf-8")
    new_rule("my-draft", "coral c", file, house=[file])
    text = file.read_text(encoding="utf-8")
    assert text.startswith("edition 1\n\nlet mine = 4 cm  # of long use\n\nrule my-draft\n")


@pytest.mark.parametrize(
    ("name", "about", "code"),
    [
        ("not-too-bright", "coral c", "command-112"),
        ("My Rule", "coral c", "command-111"),
        ("mine", "corl c", "command-111"),
        ("mine", "rock r", "command-111"),
    ],
)
def test_a_draft_that_cannot_be_is_refused_and_nothing_is_written(
    name: str, about: str, code: str, tmp_path: Path
) -> None:
    file = tmp_path / "own.rules"
    with pytest.raises(UnusableInput) as refused:
        new_rule(name, about, file, house=())
    assert refused.value.problems[0].code == code
    assert refused.value.problems[0].mend
    assert not file.exists()


def test_a_broken_file_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "own.rules"
    file.write_text("edition 1\n\nrule half\n  for corl c\n", encoding="utf-8")
    before = file.read_bytes()
    with pytest.raises(UnusableInput):
        new_rule("my-draft", "coral c", file, house=())
    assert file.read_bytes() == before


def test_drafts_are_in_their_one_form(tmp_path: Path) -> None:
    file = tmp_path / "own.rules"
    new_rule("my-draft", "coral c", file, house=())
    new_card("my-brain", "my brain", "Platygyra lamellina", "large-polyp", file, house=(file,))
    (looked,) = format_files([file], write=False)
    assert (looked.changed, looked.problems) == (False, ())


def test_a_draft_of_a_card_claims_nothing_about_its_animal(tmp_path: Path) -> None:
    file = tmp_path / "own.rules"
    new_card("my-brain", "my brain", "Platygyra lamellina", "large-polyp", file, house=())
    card = usable(*library_in_force(None, (file,))).cards["my-brain"]
    assert [value.key for value in card.values] == ["taxon", "genus", "group"]


def test_a_card_without_a_scientific_name_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput) as refused:
        new_card("my-brain", "my brain", "  ", "large-polyp", tmp_path / "own.rules", house=())
    assert refused.value.problems[0].code == "command-111"


def test_a_group_nobody_knows_is_refused_with_those_there_are(tmp_path: Path) -> None:
    with pytest.raises(UnusableInput) as refused:
        new_card("my-brain", "my brain", "Platygyra lamellina", "brainy", tmp_path / "own.rules", house=())
    assert "large-polyp" in refused.value.problems[0].mend


@pytest.mark.parametrize(
    ("to", "what", "mend"),
    [
        ("sub", "'sub' is a folder", "--to sub/own.rules"),
        ("tank.yaml", "'tank.yaml' is no rule file", "--to own.rules"),
        ("nowhere/own.rules", "there is no folder 'nowhere'", "--to own.rules"),
        ("sub/own.rules", "lies outside the tank's folder", "--to own.rules"),
        ("../own.rules", "lies outside the tank's folder", "--to own.rules"),
    ],
)
def test_a_draft_goes_only_where_it_will_be_read(
    to: str, what: str, mend: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "shelf"
    (folder / "sub").mkdir(parents=True)
    (folder / "tank.yaml").write_text("name: x\n", encoding="utf-8")
    monkeypatch.chdir(folder)
    with pytest.raises(UnusableInput) as fault:
        require_target(Path(to), None, ())
    (problem,) = fault.value.problems
    assert (problem.code, problem.mend) == ("command-111", mend)
    assert what in problem.what
    require_target(Path("own.rules"), None, ())
    require_target(Path("../own.rules"), None, (tmp_path / "own.rules",))  # read by --house in any case
    monkeypatch.chdir(tmp_path)
    require_target(Path("own.rules"), None, ())  # outside a tank there is nothing it could be left out of


@pytest.mark.parametrize("option", ["title", "taxon"])
def test_quotes_in_a_name_are_refused_with_the_word_to_type(option: str, tmp_path: Path) -> None:
    told = {"title": "my brain", "taxon": "Platygyra lamellina"} | {option: 'my "best" one'}
    with pytest.raises(UnusableInput) as fault:
        new_card("my-brain", told["title"], told["taxon"], "soft", tmp_path / "own.rules", house=())
    assert [problem.mend for problem in fault.value.problems] == [f"--{option} \"my 'best' one\""]
