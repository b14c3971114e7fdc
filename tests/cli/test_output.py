"""Which stream, which letters, which colours."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys

import pytest

from advisor.cli.output import Output, is_unicode, look_of, write
from advisor.reports.page import Tone, line
from tests.reports import samples


class Screen(io.TextIOWrapper):
    """A stream of some encoding that says it is a terminal, or not."""

    def __init__(self, encoding: str = "utf-8", terminal: bool = False) -> None:
        self.bytes = io.BytesIO()
        super().__init__(self.bytes, encoding=encoding, newline="")
        self._terminal = terminal

    def isatty(self) -> bool:
        return self._terminal

    @property
    def text(self) -> str:
        return self.bytes.getvalue().decode(self.encoding)


def test_a_pipe_is_plain_and_eighty_wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    look = look_of(Screen(), plain=False)
    assert (look.width, look.colour, look.unicode) == (80, False, True)


@pytest.mark.parametrize(("columns", "width"), [("200", 80), ("60", 60), ("10", 40)])
def test_a_terminal_gives_its_width_up_to_eighty(
    monkeypatch: pytest.MonkeyPatch, columns: str, width: int
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    look = look_of(Screen(terminal=True), plain=False)
    assert (look.width, look.colour) == (width, True)


@pytest.mark.parametrize("name", ["plain", "NO_COLOR", "dumb"])
def test_colour_can_be_declined(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "dumb" if name == "dumb" else "xterm")
    if name == "NO_COLOR":
        monkeypatch.setenv("NO_COLOR", "1")
    assert not look_of(Screen(terminal=True), plain=name == "plain").colour


@pytest.mark.parametrize(
    ("encoding", "yes"), [("utf-8", True), ("UTF8", True), ("latin-1", False), ("ascii", False)]
)
def test_only_utf_can_write_everything(encoding: str, yes: bool) -> None:
    assert is_unicode(Screen(encoding)) is yes


def test_an_old_terminal_gets_ascii() -> None:
    screen = Screen("latin-1")
    Output(out=screen).answer(samples.where_torch(), (line("118 ±12 PAR 珊"),))
    assert screen.text == "118 +-12 PAR ?\n"


def test_json_stays_json_on_an_old_terminal() -> None:
    screen = Screen("ascii")
    Output(json=True, out=screen).answer(samples.where_torch(), ())
    assert json.loads(screen.text)["coral"]["id"] == "torch-2"


def test_half_a_letter_does_not_stop_the_answer() -> None:
    screen = Screen()
    write(screen, "a \ud800 b")
    assert screen.text == "a ? b"


def test_answers_and_problems_go_apart() -> None:
    out, err = Screen(), Screen()
    output = Output(out=out, err=err)
    output.answer(samples.where_torch(), (line("one"),))
    output.answer(samples.where_torch(), (line("two", Tone.BAD),))
    output.problems(samples.problems()[2:3])
    output.problems(())
    assert out.text == "one\n\ntwo\n"
    assert err.text == "tank-301  there is no tank.yaml here\n  try: advisor tank new DIR\n"


def test_json_is_one_document_a_line_on_both_streams() -> None:
    out, err = Screen(), Screen()
    output = Output(json=True, out=out, err=err)
    output.answer(samples.where_torch(), ())
    output.answer(samples.where_candy(), ())
    output.problems(samples.problems())
    assert [json.loads(each)["coral"]["id"] for each in out.text.splitlines()] == ["torch-2", "candy-1"]
    assert len(json.loads(err.text)["problems"]) == 4


def test_a_reader_that_goes_away_is_no_fault() -> None:
    program = (
        "import sys; from advisor.cli.output import write\n"
        "for _ in range(20000): write(sys.stdout, 'x' * 80 + chr(10))\n"
        "sys.exit(7)"
    )
    reader, writer = os.pipe()
    running = subprocess.Popen([sys.executable, "-c", program], stdout=writer, stderr=subprocess.PIPE)
    os.close(writer)
    os.read(reader, 10)
    os.close(reader)
    _, complaint = running.communicate(timeout=60)
    assert (running.returncode, complaint) == (7, b"")


@pytest.mark.parametrize(("watched", "shown"), [(True, True), (False, False)])
def test_progress_is_shown_only_to_one_who_watches(
    monkeypatch: pytest.MonkeyPatch, watched: bool, shown: bool
) -> None:
    monkeypatch.setenv("TERM", "xterm")
    err = io.StringIO()
    err.isatty = lambda: watched  # type: ignore[method-assign]
    with Output(err=err).busy("looking"):
        pass
    assert bool(err.getvalue()) is shown


def test_progress_is_shown_only_where_somebody_watches() -> None:
    quiet, watched = Screen(), Screen(terminal=True)
    for stream in (quiet, watched):
        with Output(err=stream).progress("changes tried") as told:
            told(3, 4)
    assert quiet.text == ""
    assert "changes tried" in watched.text
