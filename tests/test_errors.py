"""Problems as values, and the exception that carries them."""

from __future__ import annotations

import pytest

from advisor.errors import AdvisorError, Problem, QuantityError, Severity, Span, UnusableInput, unusable


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
