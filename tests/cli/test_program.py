"""One run: exit codes, and no traceback ever."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from advisor.cli import main
from advisor.cli.arguments import SUBVERBS, VERBS, build_parser
from advisor.cli.program import START, command_for
from advisor.errors import AdvisorError
from tests.cli.fake import FakeApi, no_tank

HEAVY = ("numpy", "pydantic", "lark", "rich", "networkx", "ruamel", "scipy")


def test_alone_it_says_in_three_lines_how_to_start(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 0
    shown = capsys.readouterr().out
    assert shown == START
    assert len(shown.splitlines()) == 3
    assert max(map(len, shown.splitlines())) <= 80


def test_help_is_an_answer(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    shown = capsys.readouterr().out
    assert all(verb in shown for verb in VERBS)


@pytest.mark.parametrize("words", [["--help"], ["where", "--help"], []])
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    program = (
        "import sys; from advisor.cli import main\n"
        f"code = main({words!r})\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)\n"
        "sys.exit(code)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr.strip()) == (0, "[]")


def test_a_misspelt_verb_ends_with_a_suggestion(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["wear", "torch-2"]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err == "command-102  'wear' is not a verb of advisor\n  try: advisor where\n"


def test_a_wrong_command_can_be_read_by_a_machine(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["audit", "--on", "soon", "--json"]) == 2
    (problem,) = json.loads(capsys.readouterr().err)["problems"]
    assert problem["code"] == "command-101"


def test_every_problem_of_a_file_is_printed(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.fault = no_tank()
    assert main(["audit"]) == 2
    shown = capsys.readouterr().err
    assert all(code in shown for code in ("units-201", "word-101", "tank-301", "house-503"))


def test_short_prints_one_line_a_problem(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.fault = no_tank()
    assert main(["audit", "--short"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 4


@pytest.mark.parametrize(
    ("fault", "code", "said"),
    [
        (KeyError("secret"), 2, "the advisor itself failed (KeyError)"),
        (RecursionError(), 2, "the advisor itself failed (RecursionError)"),
        (AdvisorError("this cannot be reckoned"), 2, "this cannot be reckoned"),
        (PermissionError(13, "Permission denied", "tank.yaml"), 2, "'tank.yaml': Permission denied"),
        (KeyboardInterrupt(), 130, ""),
    ],
)
def test_no_traceback_reaches_a_keeper(
    api: FakeApi, capsys: pytest.CaptureFixture[str], fault: BaseException, code: int, said: str
) -> None:
    api.fault = fault
    assert main(["audit"]) == code
    shown = capsys.readouterr()
    assert said in shown.err
    assert "Traceback" not in shown.out + shown.err
    assert (shown.err == "") is (said == "")


def test_whoever_mends_the_advisor_gets_the_traceback(api: FakeApi, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ADVISOR_DEBUG", "1")
    api.fault = KeyError("here")
    with pytest.raises(KeyError):
        main(["audit"])


def test_every_verb_has_its_command() -> None:
    parser = build_parser()
    typed = {
        "where": "where x",
        "why": "why x",
        "why-not": "why-not x y",
        "audit": "audit",
        "light": "light x",
        "handle": "handle x",
        "card": "card x",
        "explain": "explain",
        "schema": "schema tank",
        "rules check": "rules check",
        "rules test": "rules test",
        "rules fmt": "rules fmt",
        "rules lint": "rules lint",
        "rules diff": "rules diff x",
        "rules cover": "rules cover",
        "rules mutate": "rules mutate",
        "rules doc": "rules doc",
        "rules new": "rules new rule x",
        "rules editor": "rules editor",
        "rules stats": "rules stats",
        "tank new": "tank new x",
        "tank check": "tank check",
        "tank move": "tank move x y",
        "tank add": "tank add spot x",
    }
    names = {verb for verb in VERBS if verb not in SUBVERBS}
    names |= {f"{verb} {sub}" for verb, subs in SUBVERBS.items() for sub in subs}
    assert set(typed) == names
    found = {name: command_for(parser.parse_args(words.split())) for name, words in typed.items()}
    assert found["why"] is found["why-not"]
    assert len(set(found.values())) == len(found) - 1
