"""The verbs that make and change a tank folder."""

from __future__ import annotations

import io
import json
from datetime import date
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.errors import Problem, Severity
from tests.cli.fake import FakeApi

DAY = date(2026, 11, 2)


class Keyboard(io.StringIO):
    """Standard input of a terminal, or of a pipe."""

    def __init__(self, text: str, terminal: bool) -> None:
        super().__init__(text)
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal


def typed(monkeypatch: pytest.MonkeyPatch, text: str, terminal: bool) -> None:
    monkeypatch.setattr("sys.stdin", Keyboard(text, terminal))


def test_new_asks_on_a_terminal_and_answers_for_the_whole_list(
    api: FakeApi, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(monkeypatch, "kitchen cube\n\ntorch, 8 cm\ncandy cane\n\nnever read\n", terminal=True)
    assert main(["tank", "new", "cube", "--on", "2026-11-02"]) == 0
    assert api.changed == [("new", Path("cube"), {"name": "kitchen cube"}, "torch, 8 cm\ncandy cane")]
    shown = capsys.readouterr()
    assert "What is the tank called?" in shown.err
    assert shown.out.count("on right-terrace, else left-ledge.") == 2
    assert api.opened[0]["folder"] == Path("cube")


def test_a_piped_list_is_the_list(api: FakeApi, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, "torch\nzoas\n", terminal=False)
    main(["tank", "new", "cube"])
    assert api.changed == [("new", Path("cube"), {}, "torch\nzoas\n")]


def test_new_tells_what_became_of_the_list(
    api: FakeApi, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(monkeypatch, "torch, green\n", terminal=False)
    api.remarks = ("torch: 'green' is kept as a note",)
    main(["tank", "new", "cube"])
    assert "NOTE      Torch: 'green' is kept as a note." in capsys.readouterr().out


def test_a_day_in_words_is_a_date(api: FakeApi, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, "Yesterday: alk 8.2\ntoday\n\n", terminal=True)
    main(["tank", "new", "cube", "--on", "2026-11-02"])
    assert api.changed[0][2] == {"name": "2026-11-01: alk 8.2", "glass": "2026-11-02"}


def test_yes_asks_nothing(api: FakeApi, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, "", terminal=True)
    api.session.waiting = ()
    assert main(["tank", "new", "cube", "--yes"]) == 0
    assert api.changed == [("new", Path("cube"), {}, "")]


def test_a_list_can_come_from_a_file(api: FakeApi, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, "", terminal=True)
    (tmp_path / "list.txt").write_bytes(b"\xef\xbb\xbftorch\n")
    main(["tank", "new", "cube", "--yes", "--corals", "list.txt"])
    assert api.changed == [("new", Path("cube"), {}, "torch\n")]


def test_a_list_that_is_no_text_is_refused(
    api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "list.txt").write_bytes(b"\xff\xfe\x00")
    assert main(["tank", "new", "cube", "--yes", "--corals", "list.txt"]) == 2
    assert main(["tank", "new", "cube", "--yes", "--corals", "missing.txt"]) == 2
    shown = capsys.readouterr().err
    assert "'list.txt' is not a text file in UTF-8" in shown
    assert "'missing.txt': No such file or directory" in shown
    assert api.changed == []


def test_check_of_a_sound_folder(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.session.problems = (Problem("note-1", "only said", severity=Severity.NOTE),)
    assert main(["tank", "check"]) == 0
    assert "no fault found" in " ".join(capsys.readouterr().out.split())


def test_check_of_a_doubtful_folder(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.session.problems = (Problem("key-121", "odd", severity=Severity.WARNING),)
    assert main(["tank", "check"]) == 1
    assert "1 to look at" in " ".join(capsys.readouterr().out.split())


def test_check_looks_for_places_inside_rocks_too(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.session.inside = (Problem("place-156", "deep lies inside block", severity=Severity.WARNING),)
    assert main(["tank", "check"]) == 1
    shown = capsys.readouterr()
    assert "1 to look at" in " ".join(shown.out.split())
    assert "deep lies inside block" in shown.err


def test_adding_a_coral(api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["tank", "add", "coral", "gold torch", "--id", "torch-2", "--size", "8 cm", "--light", "110 PAR",
             "--set", "doing=well", "--on", "2026-11-02"]  # fmt: skip
    assert main(words) == 0
    facts = {"size": "8 cm", "origin-light": "110 PAR", "doing": "well"}
    assert api.changed == [("coral", tmp_path, "gold torch", DAY, "torch-2", "", facts)]
    assert capsys.readouterr().out == "added     torch-2, 2 Nov 2026 (journal e-7)\n"


def test_adding_a_coral_says_what_its_name_was_taken_for(
    api: FakeApi, capsys: pytest.CaptureFixture[str]
) -> None:
    api.understood = ("'blue unicorn' has blue coral in it", ())
    assert main(["tank", "add", "coral", "blue unicorn", "--on", "2026-11-02"]) == 0
    assert "NOTE      'blue unicorn' has blue coral in it." in capsys.readouterr().out
    api.understood = ("", (Problem("name-301", "I have no card called 'zzqx'", severity=Severity.WARNING),))
    assert main(["tank", "add", "coral", "zzqx", "--on", "2026-11-02"]) == 0
    assert "I have no card called 'zzqx'" in capsys.readouterr().err


def test_adding_a_spot(api: FakeApi, tmp_path: Path) -> None:
    main(
        ["tank", "add", "spot", "ledge", "--at", "left, back", "--set", "light=medium", "--on", "2026-11-02"]
    )
    assert api.changed == [("spot", tmp_path, "ledge", DAY, "left, back", {"light": "medium"})]


def test_the_light_of_a_new_spot_has_its_option(api: FakeApi, tmp_path: Path) -> None:
    assert main(["tank", "add", "spot", "backwall", "--light", "low", "--on", "2026-11-02"]) == 0
    assert api.changed == [("spot", tmp_path, "backwall", DAY, "", {"light": "low"})]


@pytest.mark.parametrize(
    ("words", "mend"),
    [
        (["alkalinity", "8.3 dKH"], 'advisor tank add reading tank alkalinity "8.3 dKH"'),
        (["light", "118 PAR"], 'advisor tank add reading SPOT light "118 PAR"'),
        (["ledge", "light"], 'advisor tank add reading ledge light "…"'),
    ],
)
def test_a_reading_in_two_words_is_refused_with_the_line_to_type(
    api: FakeApi, capsys: pytest.CaptureFixture[str], words: list[str], mend: str
) -> None:
    assert main(["tank", "add", "reading", *words]) == 2
    shown = " ".join(capsys.readouterr().err.split())
    assert f"try: {mend}" in shown
    assert "nothing was written" in shown
    assert api.changed == []


def test_adding_a_reading_of_two(api: FakeApi, tmp_path: Path) -> None:
    main(["tank", "add", "reading", "torch-1, zoa-2", "gap", "12 cm", "--how", "tape", "--on", "2026-11-02"])
    assert api.changed == [("reading", tmp_path, ("torch-1", "zoa-2"), "gap", "12 cm", DAY, "tape")]


def test_a_hardly_possible_number_is_told_and_taken(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.odd = (Problem("value-136", "light of b: 0 PAR is hardly possible", severity=Severity.WARNING),)
    assert main(["tank", "add", "reading", "b", "light", "0 PAR", "--on", "2026-11-02"]) == 0
    told = capsys.readouterr()
    assert told.err.startswith("value-136  light of b: 0 PAR is hardly possible (warning)")
    assert told.out.startswith("measured  b, 2 Nov 2026")


def test_moving(api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tank", "move", "torch-1", "A5", "--note", "stung", "--on", "2026-11-02", "--json"]) == 0
    assert api.changed == [("move", tmp_path, "torch-1", "A5", DAY, "stung")]
    assert json.loads(capsys.readouterr().out)["event"]["kind"] == "moved"


def test_changing_outside_a_tank_is_refused(
    api: FakeApi, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "tank.yaml").unlink()
    assert main(["tank", "move", "torch-1", "A5"]) == 2
    assert api.changed == []
    assert "advisor tank new" in capsys.readouterr().err


def test_a_move_by_which_something_accepted_lapses_says_so(
    api: FakeApi, capsys: pytest.CaptureFixture[str]
) -> None:
    api.lapsed = ("your accept of keep-clear for torch-1 and candy-1 has lapsed: torch-1 was moved",)
    command = ["tank", "move", "torch-1", "ledge", "--tank", "lagoon", "--on", "2026-11-02"]
    assert main(command) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "NOTE Your accept of keep-clear for torch-1 and candy-1 has lapsed: torch-1 was moved." in shown
    assert main([*command, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["lapsed"] == list(api.lapsed)
