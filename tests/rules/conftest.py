"""The shipped rules, read once for all tests of this folder."""

from __future__ import annotations

import dataclasses
from collections import defaultdict

import pytest

from advisor.errors import Problem
from advisor.knowledge.load import load_library
from advisor.language.library import Library
from advisor.language.nodes import Level, Prefer, Rule, Stage, Text
from advisor.reasoning.examples import Outcomes, run_examples


@pytest.fixture(scope="session")
def loaded() -> tuple[Library, tuple[Problem, ...]]:
    return load_library(None)


@pytest.fixture(scope="session")
def library(loaded: tuple[Library, tuple[Problem, ...]]) -> Library:
    return loaded[0]


def as_rule(prefer: Prefer) -> Rule:
    """Return a preference as the rule that asks for what it wants, so that its examples run alike."""
    return Rule(
        prefer.span,
        prefer.name,
        prefer.binders,
        prefer.when,
        prefer.want,
        "",
        False,
        None,
        Level.ADVICE,
        Stage.SETTLED,
        prefer.because,
        "",
        Text(prefer.span, ()),
        (),
        prefer.source,
    )


@pytest.fixture(scope="session")
def outcomes(library: Library) -> dict[str, list[Outcomes]]:
    """What every example came out as, by the name of its rule or preference."""
    wants = {prefer.name: as_rule(prefer) for prefer in library.prefers.values()}
    found: dict[str, list[Outcomes]] = defaultdict(list)
    for outcome in run_examples(dataclasses.replace(library, rules={**library.rules, **wants})):
        found[outcome.example.rule].append(outcome)
    return dict(found)
