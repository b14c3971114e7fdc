"""A new tank folder."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.errors import Problem, Severity, UnusableInput
from advisor.model.tank import Phase
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.starter import QUESTIONS, list_remarks, new_tank, tank_questions
from tests.tankfiles.conftest import Folder

LIST = "torch, 8 cm, 110 PAR\ncandy cane, 5 cm\n2x zoanthid, medium light\n"
ANSWERS = {
    "name": "My Tank",
    "glass": "120x60x50 cm",
    "started": "2 years",
    "flow": "left to right",
    "pattern": "don't know",
    "photoperiod": "9 hours",
    "pump guards": "yes",
    "water": "2026-10-30: alkalinity 8.2 dKH, temperature 25 °C",
    "spots": "left ledge: left, back, high, 120 PAR, low flow; shelf: right, front, low",
    "living": "hammer on left ledge; zoanthid on the shelf; leather",
}


def made(folder: Path, vocabulary: Vocabulary, answers: dict[str, str], corals: str) -> Folder:
    assert new_tank(folder, vocabulary, answers, corals) == folder / "tank.yaml"
    return Folder(folder, vocabulary)


def test_at_most_ten_plain_questions() -> None:
    questions = tank_questions()
    assert 1 <= len(questions) <= 10
    assert len({key for key, _ in questions}) == len(questions)
    assert all("?" in text and len(text) <= 110 for _, text in questions)


def test_nothing_answered_makes_a_starter_without_fault(tmp_path: Path, vocabulary: Vocabulary) -> None:
    folder = made(tmp_path / "deep" / "hall", vocabulary, {}, LIST)
    assert folder.problems == ()
    assert [(a.id, a.phase) for a in folder.tank.animals] == [
        ("torch-1", Phase.WAITING),
        ("candy-cane-1", Phase.WAITING),
        ("zoanthid-1", Phase.WAITING),
        ("zoanthid-2", Phase.WAITING),
    ]
    assert len(folder.tank.spots) == 6
    assert {f.measure for f in folder.tank.facts} == {"size", "origin-light", "seller-light"}


def test_the_starter_shows_every_open_question_as_a_comment_that_works(
    tmp_path: Path, vocabulary: Vocabulary
) -> None:
    folder = made(tmp_path / "hall", vocabulary, {}, "")
    text = folder.text()
    for question in QUESTIONS[:8]:
        assert question.example.split(",")[0] in text
    lines = [line.removeprefix("# ") if line.startswith("# ") and ":" in line.split("#")[1][:14] else line
             for line in text.splitlines()]  # fmt: skip
    folder.write("tank.yaml", "\n".join(lines))
    assert [p for p in folder.problems if p.severity is Severity.ERROR] == []
    assert folder.tank.glass is not None


def test_every_answer_has_its_place(tmp_path: Path, vocabulary: Vocabulary) -> None:
    folder = made(tmp_path / "hall", vocabulary, ANSWERS, "")
    tank = folder.tank
    assert (tank.id, tank.name) == ("my-tank", "My Tank")
    assert tank.glass is not None
    assert tank.flow is not None
    assert (tank.glass.length_cm, tank.flow.direction_deg) == (120.0, 0.0)
    assert [(s.id, s.name, s.place) for s in tank.spots] == [
        ("left-ledge", "left ledge", "left, back, high"),
        ("shelf", "", "right, front, low"),
    ]
    assert [(a.id, a.spot, a.phase) for a in tank.animals] == [
        ("hammer-1", "left-ledge", Phase.PLACED),
        ("zoanthid-1", "shelf", Phase.PLACED),
        ("leather-1", "", Phase.PLACED),
    ]
    facts = {(f.measure, *f.subjects): f.said for f in tank.facts}
    assert facts["light", "left-ledge"].best == 120.0
    assert facts["flow", "left-ledge"].words == ("low",)
    assert facts["alkalinity", "tank"].best == 8.2
    assert facts["alkalinity", "tank"].on is not None
    assert facts["pump-guards", "tank"].words == ("yes",)
    assert ("tank-flow-pattern", "tank") not in facts


@pytest.mark.parametrize("word", ["don't know", "?", "", "  ", "unknown"])
def test_every_question_may_be_left_open(tmp_path: Path, vocabulary: Vocabulary, word: str) -> None:
    folder = made(tmp_path / "hall", vocabulary, {q.key: word for q in QUESTIONS}, "")
    assert folder.problems == ()


def test_an_answer_that_cannot_be_used_throws_nothing_else_away(
    tmp_path: Path, vocabulary: Vocabulary
) -> None:
    answers = {
        **ANSWERS,
        "glass": "big",
        "photoperiod": "30 hours",
        "spots": "a: lefft, back; b: left, back, high",
        "living": "hammer on nowhere; leather on b",
    }
    folder = made(tmp_path / "hall", vocabulary, answers, "torch, 800 cm\n110 PAR\nduncan, 5 cm\n")
    tank = folder.tank
    remarks = [line.strip() for line in folder.text().splitlines() if "# not understood: " in line]
    assert [line.removeprefix("# not understood: ")[:12] for line in remarks] == [
        "glass: big  ",
        "photoperiod:",
        "{id: a, plac",
        "{id: hammer-",
        "{id: torch-1",
        "110 PAR",
    ]
    assert [s.id for s in tank.spots] == ["a", "b"]
    assert [(a.id, a.spot) for a in tank.animals] == [
        ("hammer-1", ""),
        ("leather-1", "b"),
        ("torch-1", ""),
        ("duncan-1", ""),
    ]
    assert tank.name == "My Tank"
    assert [p.code for p in folder.problems].count("key-125") == len(remarks)


def test_what_is_read_otherwise_or_goes_into_a_note_is_told() -> None:
    assert list_remarks("torch, 8 cm, 110 PAR\nGSP 8,5 cm, green\n") == (
        "GSP: '8,5' is read as 8.5",
        "GSP: 'green' is kept as a note, and no rule reads it",
    )


def test_a_water_test_of_a_few_short_words_is_read(tmp_path: Path, vocabulary: Vocabulary) -> None:
    folder = made(tmp_path / "hall", vocabulary, {"water": "2026-11-01: alk 8.2, temp 25"}, "")
    assert folder.problems == ()
    assert folder.said("alkalinity", "tank")[0].said.best == 8.2
    assert folder.said("temperature", "tank")[0].said.best == 25.0


def test_a_place_takes_words_of_light_and_flow(tmp_path: Path, vocabulary: Vocabulary) -> None:
    spots = (
        "left-top: left, back, high, medium, sways; shelf: right, front, low, low, high; "
        "c: left, medium light"
    )
    folder = made(tmp_path / "hall", vocabulary, {"spots": spots}, "")
    assert folder.problems == ()
    assert [s.place for s in folder.tank.spots] == ["left, back, high", "right, front, low", "left"]
    told = {(f.measure, *f.subjects): f.said.words for f in folder.tank.facts}
    assert told == {
        ("light", "left-top"): ("medium",),
        ("flow", "left-top"): ("sways",),
        ("light", "shelf"): ("low",),
        ("flow", "shelf"): ("high",),
        ("light", "c"): ("medium",),
    }


def test_a_tank_is_never_overwritten(tmp_path: Path, vocabulary: Vocabulary) -> None:
    (tmp_path / "tank.yaml").write_text("mine")
    with pytest.raises(UnusableInput) as caught:
        new_tank(tmp_path, vocabulary, {}, "")
    assert caught.value.problems[0].code == "file-108"
    assert (tmp_path / "tank.yaml").read_text() == "mine"


def test_a_file_in_the_way_is_not_touched(tmp_path: Path, vocabulary: Vocabulary) -> None:
    (tmp_path / "hall").write_text("mine")
    with pytest.raises(UnusableInput):
        new_tank(tmp_path / "hall", vocabulary, {}, "")
    with pytest.raises(UnusableInput):
        new_tank(tmp_path / "hall" / "inner", vocabulary, {}, "")
    assert (tmp_path / "hall").read_text() == "mine"


@given(
    answers=st.dictionaries(st.sampled_from([q.key for q in QUESTIONS]), st.text(max_size=25)),
    corals=st.text(max_size=40),
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
def test_any_answers_make_a_sound_tank_or_are_refused(
    tmp_path_factory: pytest.TempPathFactory, vocabulary: Vocabulary, answers: dict[str, str], corals: str
) -> None:
    folder = tmp_path_factory.mktemp("new") / "hall"
    try:
        new_tank(folder, vocabulary, answers, corals)
        told: tuple[Problem, ...] = ()
    except UnusableInput as refused:
        told = refused.problems
    found = Folder(folder, vocabulary)
    assert (folder / "tank.yaml").exists() is (told == ())
    assert told or [p for p in found.problems if p.severity is Severity.ERROR] == []
