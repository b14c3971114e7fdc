"""A house's own card may share a name with a shipped one: it is told which of the two the name means."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from advisor.errors import Severity
from advisor.knowledge.doubts import all_named
from advisor.knowledge.load import load_library
from advisor.knowledge.names import find_card

CARD = """edition 1

card {name} "{title}"
  also     {also}
  genus    euphyllia
  source   "trade knowledge" kind guess
"""


Told = Callable[..., tuple[list[tuple[str, str, str]], dict[str, tuple[str, ...]]]]


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for what was read of the shipped files."""
    return tmp_path_factory.mktemp("kept")


def told_with(
    kept: Path, name: str, title: str, *also: str, house: str = "house.rules"
) -> tuple[list[tuple[str, str, str]], dict[str, tuple[str, ...]]]:
    """The notes about one own card, and the cards that each of its names is taken for."""
    text = CARD.format(name=name, title=title, also=", ".join(f'"{each}"' for each in also))
    library, problems = load_library(None, [(house, text)], kept)
    notes = [problem for problem in problems if problem.code == "name-305"]
    assert {(problem.severity, problem.span.file) for problem in notes if problem.span} <= {
        (Severity.NOTE, house)
    }
    meant = {each: find_card(each, library).cards for each in (name, title, *also)}
    return [(note.what, note.label, note.mend) for note in notes], meant


@pytest.fixture
def told(kept: Path) -> Told:
    """What is said of an own card of some name, title and other names."""
    return partial(told_with, kept)


def test_another_name_of_both_may_mean_either(told: Told) -> None:
    notes, meant = told("wall-torch", "wall torch", "gold torch", "lagoon sword")
    (note,) = notes
    assert note == (
        "'gold torch' is a name of your card wall-torch and of the shipped torch",
        "it may mean either, and the strictest counts",
        "write wall-torch in tank.yaml to mean yours, torch to mean the shipped one",
    )
    assert set(meant["gold torch"]) == {"torch", "wall-torch"}
    assert meant["lagoon sword"] == ("wall-torch",)


def test_the_own_name_of_the_shipped_card_may_mean_either(told: Told) -> None:
    notes, meant = told("wall-torch", "wall torch", "Torch")
    assert [label for _, label, _ in notes] == ["it may mean either, and the strictest counts"]
    assert set(meant["Torch"]) == {"torch", "wall-torch"}


def test_the_own_name_of_the_own_card_may_mean_either(told: Told) -> None:
    notes, meant = told("gold-torch", "lagoon sword", "sword of the lagoon")
    assert [(label, mend) for _, label, mend in notes] == [
        (
            "it may mean either, and the strictest counts",
            "give your card a name that no shipped one has, to mean yours alone",
        )
    ]
    assert set(meant["gold-torch"]) == {"torch", "gold-torch"}
    assert meant["lagoon sword"] == ("gold-torch",)


@pytest.mark.parametrize(
    ("name", "title"),
    [
        ("zoas", "my zoas"),
        ("zoanthid", "mine"),
        ("euphyllia", "mine"),
        ("galaxy-coral", "mine"),
        ("galaxy", "mine"),
        ("zoas-1", "mine"),
        ("lagoon-star", "button polyp"),
    ],
)
def test_no_own_card_takes_a_shipped_name_alone(told: Told, kept: Path, name: str, title: str) -> None:
    plain, _ = load_library(None, (), kept)
    notes, meant = told(name, title, "lagoon sword")
    assert notes
    shared = title if title != "mine" and name == "lagoon-star" else name
    assert set(meant[shared]) == {name, *find_card(shared, plain).cards}
    assert len(meant[shared]) > 1
    library, _ = load_library(
        None, [("house.rules", CARD.format(name=name, title=title, also='"x y"'))], kept
    )
    assert set(find_card(shared, plain).cards) <= set(all_named(f"lovely {shared}", library))
    assert set(find_card(shared, plain).cards) <= set(find_card(f"lovely {shared}", library).cards)


def test_names_of_one_meaning_are_told_together(told: Told) -> None:
    notes, meant = told("wall-torch", "wall torch", "gold torch", "indo torch")
    ((what, label, _),) = notes
    assert what.startswith("'gold torch' and 'indo torch' are names of your card wall-torch")
    assert label.startswith("they may mean either")
    assert set(meant["indo torch"]) == {"torch", "wall-torch"}


def test_a_name_of_several_shipped_cards_may_mean_any(told: Told) -> None:
    notes, meant = told("my-cap", "cap of mine", "monti")
    ((_, label, _),) = notes
    assert label == f"it may mean any of {len(meant['monti'])} cards, and the strictest counts"
    assert len(meant["monti"]) > 2
    assert "my-cap" in meant["monti"]


@pytest.mark.parametrize("also", ["lagoon sword", "euphyllia of mine"])
def test_names_of_ones_own_and_shipped_ones_among_themselves_are_not_told(
    told: Told, kept: Path, also: str
) -> None:
    assert told("lagoon-sword", "lagoon sword", also)[0] == []
    assert [problem for problem in load_library(None, (), kept)[1] if problem.code == "name-305"] == []


def test_a_note_is_for_who_checks_the_files_and_no_answer_says_it(tmp_path: Path) -> None:
    from advisor.session.opening import library_in_force, warnings_of

    house = tmp_path / "house.rules"
    house.write_text(CARD.format(name="my-torch", title="my own torch", also='"torch"'), encoding="utf-8")
    library, problems = library_in_force(None, [house])
    assert "name-305" in [problem.code for problem in problems]
    assert "name-305" not in [problem.code for problem in warnings_of(library, problems)]
