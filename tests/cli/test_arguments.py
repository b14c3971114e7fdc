"""What can be typed, and what is said of what cannot."""

from __future__ import annotations

import shlex
from datetime import date
from pathlib import Path

import pytest

from advisor.cli.arguments import SUBVERBS, THINGS, VERBS, build_parser, each_opened, require_known_verb
from advisor.errors import UnusableInput

PLAIN = [
    "where torch-2",
    "why torch-2",
    "why-not torch-2 A3",
    "audit",
    "card torch",
    "rules check",
    "rules test",
    "tank new x",
    "tank check",
    "tank add coral torch",
    "tank add spot A3",
    "tank add reading A3 light 90",
    "tank move torch-2 A3",
    "explain YES",
    "schema tank",
]


@pytest.mark.parametrize("typed", PLAIN)
def test_every_verb_takes_the_common_options(typed: str) -> None:
    options = ["--json", "--plain", "--short", "--level", "3", "--on", "2026-11-02", "--tank", "t",
               "--house", "a.rules", "--house", "b.rules", "--rules", "r"]  # fmt: skip
    found = build_parser().parse_args([*typed.split(), *options])
    assert (found.json, found.plain, found.short, found.level) == (True, True, True, 3)
    assert (found.on, found.tank, found.rules) == (date(2026, 11, 2), Path("t"), Path("r"))
    assert found.house == [Path("a.rules"), Path("b.rules")]


def test_house_files_of_one_run_do_not_leak_into_the_next() -> None:
    build_parser().parse_args(["audit", "--house", "a.rules"])
    assert build_parser().parse_args(["audit"]).house == []


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("audit --on yesterday", "'yesterday' is not a date; write it as 2026-11-02"),
        ("audit --months 0", "'0' is not a number of months from 1 to 240"),
        ("audit --level 7", "invalid choice"),
        ("where x --lev 2", "unrecognized arguments: --lev 2"),
        ("why-not torch-2", "the following arguments are required: SPOT"),
        ("tank add coral torch --set light", "'light' is not KEY=VALUE"),
    ],
)
def test_a_wrong_word_raises_a_problem_of_one_line_and_where_all_is_told(typed: str, said: str) -> None:
    with pytest.raises(UnusableInput) as caught:
        build_parser().parse_args(typed.split())
    (problem,) = caught.value.problems
    assert said in problem.what
    assert problem.mend.startswith("advisor")
    assert len(problem.mend) < 60, "no wall of usage"


@pytest.mark.parametrize(
    ("typed", "mend"),
    [
        ("wear torch-2", "advisor where"),
        ("whynot torch-2 A3", "advisor why-not"),
        ("rules chek", "advisor rules check"),
        ("tank ad coral", "advisor tank add"),
        ("tank add corals", "advisor tank add coral"),
    ],
)
def test_a_misspelt_verb_gets_the_nearest(typed: str, mend: str) -> None:
    with pytest.raises(UnusableInput) as caught:
        require_known_verb(typed.split())
    assert caught.value.problems[0].mend == mend


def test_a_word_like_no_verb_gets_the_list() -> None:
    with pytest.raises(UnusableInput) as caught:
        require_known_verb(["xyzzy"])
    assert all(verb in caught.value.problems[0].mend for verb in VERBS)


@pytest.mark.parametrize("typed", [*PLAIN, "", "--help", "tank", "rules --help", "tank add"])
def test_known_words_pass(typed: str) -> None:
    require_known_verb(typed.split())


def test_help_fits_eighty_columns(capsys: pytest.CaptureFixture[str]) -> None:
    typed = [[], *([verb] for verb in VERBS), *([verb, sub] for verb in SUBVERBS for sub in SUBVERBS[verb]),
             *(["tank", "add", thing] for thing in THINGS)]  # fmt: skip
    for words in typed:
        with pytest.raises(SystemExit):
            build_parser().parse_args([*words, "--help"])
        shown = capsys.readouterr().out
        assert shown
        assert max(map(len, shown.splitlines())) <= 80


@pytest.mark.parametrize("verb", ["move", "add", "check", "new"])
def test_a_verb_of_tank_at_the_top_is_sent_there(verb: str) -> None:
    with pytest.raises(UnusableInput) as caught:
        require_known_verb([verb, "torch-1", "ledge"])
    (problem,) = caught.value.problems
    assert problem.mend.startswith(f"advisor tank {verb}")


@pytest.mark.parametrize("typed", ["tank move", "tank add reading", "tank add spot", "tank new"])
def test_a_missing_word_gets_one_example_line_that_can_be_typed(typed: str) -> None:
    with pytest.raises(UnusableInput) as caught:
        build_parser().parse_args(typed.split())
    (problem,) = caught.value.problems
    assert problem.mend.startswith(f"advisor {typed} ")
    build_parser().parse_args(shlex.split(problem.mend)[1:])


@pytest.mark.parametrize(
    ("typed", "nodes"),
    [
        ("where torch-1 --open 1.2 3.1", ["1.2", "3.1"]),
        ("why --open 3 7 torch-1 ledge", ["3", "7"]),
        ("audit --open 3 --open o7", ["3", "o7"]),
        ("audit --open not-too-bright(a) 7/expect/1 g1", ["not-too-bright(a)", "7/expect/1", "g1"]),
        ("audit --open 3 my-tank", ["3"]),
        ("audit", []),
    ],
)
def test_several_nodes_may_be_opened(typed: str, nodes: list[str]) -> None:
    assert build_parser().parse_args(each_opened(typed.split())).open == nodes
