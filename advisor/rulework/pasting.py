"""Example blocks to paste: whole but for the outcome, which only the author can say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from textwrap import wrap

from advisor.language.declare import PLACE_FOR_OUTCOME
from advisor.language.format_cases import example_clauses
from advisor.language.format_clause import clause
from advisor.language.format_expr import digits
from advisor.language.nodes import Example
from advisor.model.results import Verdict
from advisor.model.vocabulary import Vocabulary
from advisor.reasoning.examples import OUTCOMES, Trial
from advisor.reasoning.reasons import LEANS
from advisor.reasoning.record import Row, margin_of
from advisor.rulework.altering import Change, written_given

_LONGEST_TITLE = 58
WIDEST = 78
"""A block fits on a terminal, so that it can be copied from there. [columns]"""


def outcome_of(trial: Trial, at: int) -> str:
    """Return all that can be said of one outcome, as an example would say it."""
    verdict = trial.verdict(at)
    said = OUTCOMES[verdict].value if verdict in OUTCOMES else verdict.value
    if verdict in (Verdict.HOLDS, Verdict.FAILS):
        return said + _by(trial, at)
    if verdict is not Verdict.UNDECIDED:
        return said
    close = " too close" if trial.plane.causes()[at] == "too close" else ""
    lean = LEANS[int(trial.plane.lean[at])]
    needs = "" if close else ", ".join(sorted(trial.asks(at)))
    return said + (f" needs {needs}" if needs else close + (f" leans {lean}" if lean else ""))


def _by(trial: Trial, at: int) -> str:
    """By how much it came out so."""
    if trial.compiled.expect is None:
        return ""
    margin, _ = margin_of(trial.compiled.expect, Row(trial.frame, at))
    if margin is None or margin.best is None:
        return ""
    return f" by {digits(round(abs(margin.best), 6))} {margin.unit}".rstrip()


def titled(example: Example, changes: Sequence[Change], vocabulary: Vocabulary) -> Example:
    """Return an example called by what was changed in it."""
    said = " and ".join(written_given(change, vocabulary) for change in changes)
    title = f"{example.title}, but {said}" if said else example.title
    short = title if len(title) <= _LONGEST_TITLE else said
    return replace(example, title=short if len(short) <= _LONGEST_TITLE else f"{short[:_LONGEST_TITLE]} …")


def block_of(example: Example, comments: Sequence[str]) -> str:
    """Return an example as a block to paste: what came out as comments, a mark where the outcome belongs.

    Pasted as it is, it is refused until the author has said what must come out.
    """
    given = example_clauses(replace(example, thens=()), WIDEST)
    lines = [line for clause in given for line in clause.lines]
    for comment in comments:
        lines += [f"  # {piece}" for piece in wrap(comment, WIDEST - 4, break_long_words=False)]
    for index, then in enumerate(example.thens):
        month = f"at month {digits(then.month)}, " if then.month else ""
        said = f"{month}{', '.join(then.entities)} {PLACE_FOR_OUTCOME}"
        lines += clause("" if index else "then", said, pad=6, most=WIDEST).lines
    return "\n".join(lines)
