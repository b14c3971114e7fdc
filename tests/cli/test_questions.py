"""The verbs that ask: what they pass on, what they print, how they end."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.cli.program import START
from advisor.cli.questions import Asked, has_sure_place, is_clean, is_sure_yes, nearest_tank
from advisor.errors import Problem, Severity, unusable
from advisor.model.results import CardAnswer, Caution, Need, Verdict, WhyAnswer, Word
from advisor.reports.once import told_once
from tests.cli.fake import FakeApi
from tests.reports import samples

FAILED_GATE = samples.ALKALINITY.model_copy(update={"verdict": Verdict.FAILS})


def test_where_prints_each_answer_and_ends_well(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["where", "torch-2", "torch-3", "--on", "2026-11-02"]) == 0
    shown = capsys.readouterr().out
    assert shown.count("PUT IT    on right-terrace") == 2
    assert "\n\ntorch-2" in shown
    assert api.session.asked == [("where", "torch-2", 1), ("where", "torch-3", 1)]


def test_where_alone_asks_for_all_that_wait(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["where"]) == 0
    assert [asked[1] for asked in api.session.asked] == ["torch-2", "candy-1"]  # type: ignore[index]
    assert "tonight        for good" in capsys.readouterr().out
    assert main(["where", "--level", "2"]) == 0
    assert capsys.readouterr().out.count("PUT IT") == 2
    assert main(["where", "--json"]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 2
    api.session.waiting = ()
    assert main(["where"]) == 2
    assert "no coral is waiting" in capsys.readouterr().err


def test_where_without_a_sure_place_ends_with_one(api: FakeApi) -> None:
    api.session.where_answer = samples.where_candy()
    assert main(["where", "candy-1"]) == 1


def test_a_misspelt_coral_gets_a_suggestion(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["where", "torhc"]) == 2
    assert "try: torch" in capsys.readouterr().err


def test_options_are_passed_on(api: FakeApi, tmp_path: Path) -> None:
    main(["where", "x", "--on", "2026-11-02", "--house", "a", "--rules", "r", "--tank", "t", "--months", "6"])
    assert api.opened == [
        {"folder": Path("t"), "on": date(2026, 11, 2), "house": (Path("a"),), "rules": Path("r"), "months": 6}
    ]


def test_the_day_is_today_unless_told(api: FakeApi) -> None:
    before = date.today()
    main(["audit"])
    assert before <= api.opened[0]["on"] <= date.today()  # type: ignore[operator]


def test_the_nearest_tank_above_is_meant(
    api: FakeApi, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    below = tmp_path / "a" / "b"
    below.mkdir(parents=True)
    monkeypatch.chdir(below)
    main(["audit"])
    assert api.opened[0]["folder"] == tmp_path


def test_outside_a_tank_it_says_how_to_start(
    api: FakeApi, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "tank.yaml").unlink()
    if nearest_tank(tmp_path) is not None:
        pytest.fail("a folder above the test folder is a tank")
    assert main(["audit"]) == 2
    shown = capsys.readouterr().err
    assert "there is no tank.yaml here" in shown
    assert shown.endswith("\n\n" + START)
    assert api.opened == []


def test_why_and_why_not_pass_coral_and_spot(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["why", "torch-1"]) == 1
    assert main(["why-not", "torch-1", "A3", "--level", "2"]) == 1
    assert api.session.asked == [("why", "torch-1", None, 1), ("why", "torch-1", "A3", 2)]
    assert "NO  torch-1 at A3" in capsys.readouterr().out


def test_audit_goes_round_several_tanks(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", "one", "two", "--months", "6"]) == 1
    assert [opened["folder"] for opened in api.opened] == [Path("one"), Path("two")]
    assert capsys.readouterr().out.count("2 animals are being harmed now.") == 2


def test_one_bad_tank_of_a_round_is_enough(api: FakeApi) -> None:
    api.session.audit_answer = samples.audit_quiet()
    assert main(["audit", "one", "two"]) == 0


def test_warnings_go_to_stderr_beside_the_answer(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.session.problems = (Problem("key-121", "spot 'x' is empty", severity=Severity.WARNING),)
    assert main(["where", "torch-2"]) == 0
    shown = capsys.readouterr()
    assert "key-121  spot 'x' is empty (warning)" in shown.err
    assert "PUT IT" in shown.out


def test_one_that_waits_without_a_card_ends_in_1_and_keeps_its_caution(
    api: FakeApi, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    caution = Caution(text="No card says what this is", source="", grade="")
    unnamed = CardAnswer(card="", title="bag-1", called=("bag-1",), cautions=(caution,))
    monkeypatch.setattr("advisor.api.card", lambda *_, **__: [unnamed])
    assert main(["card", "--waiting"]) == 1
    shown = capsys.readouterr().out
    assert "bag-1  (no card)" in shown
    assert "CAUTION   No card says what this is." in shown
    assert "advisor handle bag-1" in shown


def test_cards_of_all_that_wait(api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["card", "--waiting", "--md"]) == 0
    assert capsys.readouterr().out.count("## torch coral") == 2
    assert api.cards_asked[-1] == (("torch", "candy cane"), ("torch-2", "candy-1"))
    api.session.waiting = api.session.waiting_taxa = ()
    assert main(["card", "--waiting"]) == 2
    assert "no coral is waiting" in capsys.readouterr().err
    assert main(["card"]) == 2
    assert "advisor card CORAL" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "words", "begins"),
    [
        ("a.html", (), "<!DOCTYPE html>"),
        ("a.md", (), "## torch coral"),
        ("a.txt", ("--html",), "<!DOCTYPE html>"),
        ("a.html", ("--md",), "## torch coral"),
    ],
)
def test_cards_are_written_to_a_file(
    api: FakeApi, tmp_path: Path, name: str, words: tuple[str, ...], begins: str
) -> None:
    assert main(["card", "torch", "--to", str(tmp_path / name), *words]) == 0
    assert (tmp_path / name).read_text(encoding="utf-8").startswith(begins)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([name, "tank.yaml"])


def test_cards_cannot_be_written_where_no_folder_is(
    api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["card", "torch", "--to", str(tmp_path / "none" / "a.html")]) == 2
    assert "there is no folder" in capsys.readouterr().err


def test_cards_need_no_tank(api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "tank.yaml").unlink()
    assert main(["card", "torch", "gold torch"]) == 0
    assert capsys.readouterr().out.count("torch coral  (card torch)") == 2


def test_json_is_the_answer_itself(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["where", "torch-2", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found == told_once(samples.where_torch()).model_dump(mode="json")


@pytest.mark.parametrize("node", ["1.3/expect/2", "keep-clear-of-stingers(torch-2,hammer-1)/expect/2"])
def test_one_node_can_be_opened(api: FakeApi, capsys: pytest.CaptureFixture[str], node: str) -> None:
    main(["where", "torch-2", "--open", node])
    levels = [asked[-1] for asked in api.session.asked if isinstance(asked, tuple)]
    assert levels == ([4] if "(" in node else [3, 4])  # a number is that of what is printed
    assert "longest reach of torch-2 = 25 cm" in capsys.readouterr().out


def test_a_node_can_be_had_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    main(["where", "torch-2", "--open", "1.3/expect/2", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert told["question"] == "node"
    assert told["node"]["op"] == "define"
    assert [caution["text"] for caution in told["cautions"]] == [
        caution.text for caution in api.session.where_answer.cautions
    ]


def test_an_unknown_node_gets_the_nearest(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["where", "torch-2", "--open", "keep-clear-of-stingers(torch-2,hammer-1)/expct"]) == 2
    assert "try: --open 'keep-clear-of-stingers(torch-2,hammer-1)/expect'" in capsys.readouterr().err


@pytest.mark.parametrize("word", list(Word))
def test_only_a_sure_word_ends_with_nought(word: Word) -> None:
    sure = word in (Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL)
    place = samples.RIGHT_TERRACE.model_copy(update={"word": word})
    where = samples.where_torch().model_copy(update={"places": (place,)})
    why = samples.why_not_torch().model_copy(update={"place": place})
    assert has_sure_place(where) is sure
    assert is_sure_yes(why) is sure
    assert not has_sure_place(where.model_copy(update={"gates": (FAILED_GATE,)}))
    assert not is_sure_yes(why.model_copy(update={"gates": (FAILED_GATE,)}))


def test_an_audit_is_clean_only_without_findings_and_failing_gates() -> None:
    quiet = samples.audit_quiet()
    assert is_clean(quiet)
    assert not is_clean(quiet.model_copy(update={"later": samples.audit_lagoon().later}))
    assert not is_clean(quiet.model_copy(update={"now": samples.audit_lagoon().now}))
    assert not is_clean(quiet.model_copy(update={"gates": (FAILED_GATE,)}))


def test_why_of_a_waiting_coral_is_about_its_best_spot(
    api: FakeApi, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answered = api.session.why

    def why(coral: str, spot: str | None, *, level: int = 1) -> WhyAnswer:
        if spot is None:
            raise unusable((Problem("ask-402", f"{coral} stands nowhere yet"),))
        return answered(coral, spot, level=level)

    monkeypatch.setattr(api.session, "why", why)
    main(["why", "torch-2"])
    best = api.session.where_answer.places[0].place
    assert ("why", "torch-2", best, 1) in api.session.asked
    assert "torch-2 stands nowhere yet, so this is about its best spot" in capsys.readouterr().out


def test_a_line_to_type_carries_the_tank_and_the_day_that_were_given(
    api: FakeApi, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    need = Need(
        measure="gap", subjects=("a", "b"), ask="measure it", command="advisor tank add reading a,b gap 1"
    )
    api.session.audit_answer = api.session.audit_answer.model_copy(update={"needs": (need,)})
    api.session.where_answer = api.session.where_answer.model_copy(update={"needs": (need,)})
    for verb in ("audit", "where torch-2"):
        main([*verb.split(), "--tank", str(tmp_path), "--on", "2026-11-02"])
        shown = "".join(capsys.readouterr().out.split())
        assert f"{need.command} --tank {tmp_path} --on 2026-11-02".replace(" ", "") in shown
        main(verb.split())
        assert "--on" not in capsys.readouterr().out


def with_caution(answer: Asked) -> Asked:
    """The answer with something to mind for people."""
    return answer.model_copy(update={"cautions": (samples.CAUTION,)})


GIVEN = ["--on", "2026-11-02", "--house", "my house.rules", "--rules", "r"]


@pytest.mark.parametrize(
    ("verb", "command"),
    [
        ("where torch-2", "why torch-2 right-terrace"),
        ("where", "where torch-2"),
        ("where torch-2", "advisor handle torch-2"),
        ("why torch-2 A1", "advisor handle torch-1"),
        ("audit", "advisor handle CORAL"),
    ],
)
def test_every_command_to_go_on_with_carries_what_was_given(
    api: FakeApi, capsys: pytest.CaptureFixture[str], verb: str, command: str
) -> None:
    api.session.audit_answer = with_caution(api.session.audit_answer)
    api.session.why_answer = with_caution(api.session.why_answer)
    main([*verb.split(), *GIVEN])
    shown = " ".join(capsys.readouterr().out.split())
    assert f"{command} --on 2026-11-02 --house 'my house.rules' --rules r" in shown


def test_a_tank_named_without_its_option_is_carried_with_it(
    api: FakeApi, capsys: pytest.CaptureFixture[str]
) -> None:
    api.session.audit_answer = with_caution(api.session.audit_answer)
    main(["audit", "one tank"])
    assert "advisor handle CORAL --tank 'one tank'" in " ".join(capsys.readouterr().out.split())
