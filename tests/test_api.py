"""The few public functions, used as a program of somebody else's would use them."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import jsonschema
import pytest

import advisor
from advisor import api
from advisor.model.results import Verdict, Word

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
DAY = date(2026, 11, 2)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A tank folder to do anything with."""
    return Path(shutil.copytree(EXAMPLES / "first-shelf", tmp_path / "shelf"))


def test_a_question_is_asked_of_a_session(folder: Path) -> None:
    session = advisor.open_tank(folder, on=DAY)
    assert session.waiting == ("torch-1",)
    answer = session.where("torch-1")
    assert answer.tonight is not None
    assert answer.places[0].place == answer.tonight.place == "left-ledge"
    assert answer.places[0].word is Word.YES
    assert answer.cautions


def test_where_and_why_agree_about_every_place(folder: Path) -> None:
    session = advisor.open_tank(folder, on=DAY)
    for place in session.where("torch-1").places:
        assert session.why("torch-1", place.place).place.word is place.word


def test_the_date_is_what_the_caller_says(folder: Path) -> None:
    early, late = (advisor.open_tank(folder, on=day) for day in (DAY, date(2028, 1, 1)))
    assert early.where("torch-1").places[0].word is Word.YES
    assert late.where("torch-1").places[0].word is not Word.YES  # every reading is too old by then


def test_a_longer_look_ahead_finds_no_less(folder: Path) -> None:
    session = advisor.open_tank(folder, on=DAY)
    assert len(session.audit(60).later) >= len(session.audit(1).later)


def test_a_change_is_written_and_seen_by_the_next_session(folder: Path) -> None:
    event = advisor.move(folder, "torch-1", "left-ledge", on=DAY)
    assert (event.subject, event.spot) == ("torch-1", "left-ledge")
    advisor.add_coral(folder, "duncan", on=DAY, id="duncan-1", facts={"size": "5 cm"})
    advisor.add_spot(folder, "low-rock", on=DAY, at="left, front, low")
    advisor.add_reading(folder, ("low-rock",), "light", "95 PAR", on=DAY, how="meter")
    session = advisor.open_tank(folder, on=DAY)
    assert session.waiting == ("duncan-1",)
    assert {"low-rock"} <= {spot.id for spot in session.tank.spots}
    assert len((folder / "journal.jsonl").read_text(encoding="utf-8").splitlines()) == 4


def test_a_new_tank_can_be_asked_at_once(tmp_path: Path) -> None:
    made = advisor.new_tank(tmp_path / "hall", {}, "torch, 8 cm, 110 PAR\ncandy cane")
    session = advisor.open_tank(made if made.is_dir() else made.parent, on=DAY)
    assert len(session.waiting) == 2


def test_every_problem_comes_with_the_exception(folder: Path) -> None:
    text = (folder / "tank.yaml").read_text(encoding="utf-8")
    broken = text.replace("120 PAR", "120 cm").replace("spot: right-shelf", "spot: nowhere")
    (folder / "tank.yaml").write_text(broken, encoding="utf-8")
    with pytest.raises(advisor.AdvisorError) as caught:
        advisor.open_tank(folder, on=DAY)
    problems = caught.value.problems
    assert len(problems) == 2
    assert all(isinstance(each, advisor.Problem) for each in problems)
    assert None not in [each.span for each in problems]
    assert all(each.mend for each in problems)


def test_a_folder_without_a_tank_is_refused(tmp_path: Path) -> None:
    with pytest.raises(advisor.AdvisorError):
        advisor.open_tank(tmp_path, on=DAY)


def test_a_card_is_found_by_any_of_its_names() -> None:
    (by_trade,), (by_binomial,) = advisor.card(["torch"]), advisor.card(["Euphyllia glabrescens"])
    assert by_trade.card == by_binomial.card == "torch"
    with pytest.raises(advisor.AdvisorError, match="frobnicate"):
        advisor.card(["frobnicate"])


def test_the_shipped_rules_are_sound_and_their_examples_come_out() -> None:
    problems, counts = advisor.check_rules()
    assert list(problems) == []
    assert all(number > 0 for number in counts.values())
    results = advisor.run_examples().examples
    assert len(results) > 100
    assert [result.title for result in results if not result.ok] == []


@pytest.mark.parametrize("name", ["tank", "event", "answer"])
def test_the_published_schemas_are_schemas(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(dict(advisor.schema(name)))


def test_an_answer_fits_its_published_schema(folder: Path) -> None:
    session = advisor.open_tank(folder, on=DAY)
    validator = jsonschema.Draft202012Validator(dict(advisor.schema("answer")))
    for answer in (session.where("torch-1"), session.why("torch-1", "middle"), session.audit()):
        assert [error.message for error in validator.iter_errors(answer.model_dump(mode="json"))] == []


def test_a_no_names_a_danger_that_fails(folder: Path) -> None:
    answer = advisor.open_tank(folder, on=DAY).why("torch-1", "middle")
    assert answer.place.word is Word.NO
    failing = [
        reason
        for reason in answer.place.reasons
        if reason.level == "danger" and reason.verdict is Verdict.FAILS
    ]
    assert failing
    assert all(reason.margin is not None and (reason.margin.best or 0.0) < 0 for reason in failing)


def test_the_rules_of_a_tank_folder_are_found_with_it(tmp_path: Path) -> None:
    (tmp_path / "tank.yaml").write_text("name: mine\n", encoding="utf-8")
    (tmp_path / "house.rules").write_text("edition 1\n\nhouse\n  chnge x\n", encoding="utf-8")
    assert api.house_rules(tmp_path) == (tmp_path / "house.rules",)
    problems, _ = api.check_rules(house=api.house_rules(tmp_path))
    assert {problem.severity.value for problem in problems} == {"error"}


def test_a_reading_dated_after_the_day_asked_about_is_left_out_and_told(tmp_path: Path) -> None:
    text = (
        "name: mine\nspots:\n  - {id: shelf, light: {value: 118 PAR, on: 2027-01-01}}\ncorals:\n  - torch\n"
    )
    (tmp_path / "tank.yaml").write_text(text, encoding="utf-8")
    early = api.open_tank(tmp_path, on=date(2026, 11, 2))
    assert [(problem.code, problem.severity.value) for problem in early.problems] == [
        ("reading-170", "warning")
    ]
    late = api.open_tank(tmp_path, on=date(2027, 1, 2))
    assert late.problems == ()


def test_an_added_coral_is_said_to_be_what_its_name_was_taken_for(tmp_path: Path) -> None:
    folder = tmp_path / "hall"
    advisor.new_tank(folder, {}, "torch")
    assert advisor.add_coral(folder, "zzqx", on=DAY).subject == "zzqx-1"
    how, problems = advisor.api.understood_as(folder, "zzqx, 8 cm")
    assert (how, [problem.code for problem in problems]) == ("", ["name-301"])
    assert "counts as a zoanthid" in problems[0].what
    how, problems = advisor.api.understood_as(folder, "blue unicorn")
    assert "blue unicorn" in how
    assert problems == ()


def test_a_card_of_the_house_counts_for_a_coral_that_is_added(tmp_path: Path) -> None:
    folder = tmp_path / "hall"
    advisor.new_tank(folder, {}, "torch")
    card = (
        'edition 1\n\ncard my-brain "zzqx"\n'
        '  taxon    "Examplea cerebralis"  genus examplea  group large-polyp  lives-on light\n'
        "  light    min 40 PAR  best 60 to 120 PAR  max 180 PAR\n"
        "  flow     min 3 cm/s  best 5 to 10 cm/s  max 15 cm/s\n"
        '  source   "own tank" kind guess\n'
    )
    assert advisor.api.understood_as(folder, "zzqx")[1]
    (folder / "house.rules").write_text(card, encoding="utf-8")
    assert advisor.api.understood_as(folder, "zzqx") == ("'zzqx' is another name for my brain", ())
