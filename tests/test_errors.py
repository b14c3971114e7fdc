"""Problems as values, and the exception that carries them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import advisor
from advisor.errors import AdvisorError, Problem, QuantityError, Severity, Span, UnusableInput, unusable

PACKAGE = Path(advisor.__file__).parent
CODE = re.compile(r"[a-z]+-\d{3}")
MEND_AT = {
    "Problem": 4,
    "say": 4,
    "refuse": 4,
    "finding": 4,
    "_fault": 3,
    "_refuse": 3,
    "_note": 2,
    "note": None,
}
"""Calls that tell a problem, and where the mend stands among their arguments without names."""
WITHOUT_A_MEND = {
    ("cli/program.py", "input-100"): "an exception without problems: its message is all that is known of it",
    ("cli/program.py", "input-101"): "the problems the exception carries follow, each with its own mend",
    ("language/build.py", "units-204"): "which number was meant cannot be guessed from 1e300",
    ("language/mistakes.py", "word-100"): "the lexer knows every character, so that none is left to explain",
    ("tankfiles/scans.py", "scan-216"): "a note: an open foot changes no answer, nothing is to be done",
    ("tankfiles/scans.py", "scan-218"): "a note: fewer faces are reckoned with, nothing is to be done",
}
"""Places that tell a problem and say nothing of what to try, with the reason for each."""


def _told_without_a_mend() -> Iterator[tuple[str, str]]:
    """Every place of the package that tells a problem by its code and gives no mend, or an empty one."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(call, ast.Call) or not call.args:
                continue
            name, code = getattr(call.func, "attr", getattr(call.func, "id", "")), call.args[0]
            if name in MEND_AT and isinstance(code, ast.Constant) and CODE.fullmatch(str(code.value)):
                mend = _mend(call, MEND_AT[name])
                if mend is None or (isinstance(mend, ast.Constant) and not mend.value):
                    yield path.relative_to(PACKAGE).as_posix(), str(code.value)


def _mend(call: ast.Call, at: int | None) -> ast.expr | None:
    """The mend a call gives, by its name or by its place."""
    named = [keyword.value for keyword in call.keywords if keyword.arg == "mend"]
    if named or at is None or at >= len(call.args):
        return named[0] if named else None
    return call.args[at]


def test_every_problem_says_what_to_try_or_why_that_cannot_be_said() -> None:
    assert sorted(_told_without_a_mend()) == sorted(WITHOUT_A_MEND)


def test_a_place_without_a_mend_would_be_seen() -> None:
    told = 'typer.say("units-201", "a length", span, "in cm"{})'
    for given, seen in (("", None), (', "20 cm"', "20 cm"), (', mend="20 cm"', "20 cm")):
        (call,) = [node for node in ast.walk(ast.parse(told.format(given))) if isinstance(node, ast.Call)]
        mend = _mend(call, MEND_AT["say"])
        assert (mend.value if isinstance(mend, ast.Constant) else mend) == seen


def test_one_root_catches_everything_raised_on_purpose() -> None:
    for kind in (QuantityError, UnusableInput):
        assert issubclass(kind, AdvisorError)
    assert issubclass(QuantityError, ValueError)


def test_unusable_input_carries_every_problem_and_names_the_first() -> None:
    problems = (
        Problem("tank-101", "no such spot", Span("tank.yaml", 4)),
        Problem("tank-102", "two corals at one place", severity=Severity.WARNING),
    )
    raised = unusable(problems)
    assert str(raised) == "no such spot"
    assert raised.problems == problems


def test_nothing_given_still_says_something() -> None:
    assert str(unusable(())) == "nothing usable was given"


def test_a_problem_cannot_be_changed_afterwards() -> None:
    problem = Problem("tank-101", "no such spot")
    with pytest.raises(AttributeError):
        problem.what = "all is well"  # type: ignore[misc]  # the point of the test
