"""Hand-built answers of the tools that prove rules, for reports and the command line."""

from __future__ import annotations

from advisor.model.coverage import ConditionCover, CoverAnswer, Gap, Mark, ThingCover, tally
from advisor.model.mutation import Change, MutateAnswer, SameMeaning, Survivor
from advisor.model.results import ExamplesAnswer, MovedExample
from tests.reports import samples

BLOCK = 'example "near" for keep-clear\n  given a is coral\n  # comes out: fails by 1 cm\n  then  a'


def example_answer(only_good: bool = False) -> ExamplesAnswer:
    """Return three examples, one of them not as expected."""
    found = samples.examples()
    return ExamplesAnswer(examples=found[:2] if only_good else found)


def moved() -> MovedExample:
    """Return a shipped example that a house moves."""
    return MovedExample(
        title="far",
        rule="keep-clear",
        file="spacing.rules",
        line=12,
        shipped="holds by 3 cm",
        here="fails by 2 cm",
        because="change allowance from 5 cm to 10 cm",
        because_file="house.rules",
        because_line=3,
    )


def _marks(**seen: int) -> tuple[Mark, ...]:
    return tuple(Mark(what=what.replace("_", " "), seen=count) for what, count in seen.items())


def covered(*, gaps: bool = False) -> ThingCover:
    """Return a rule with one gap, explained or not."""
    gap = Gap(
        where="divider(a, b)",
        what="unknown",
        why="in every example it is no",
        example=BLOCK,
        comes_out="fails",
    )
    return ThingCover(
        name="keep-clear",
        kind="rule",
        file="spacing.rules",
        line=4,
        verdicts=(
            *_marks(holds=2, fails=1, undecided=1),
            Mark(what="excused", seen=0),
            Mark(what="not covered", seen=0, needed=False),
        ),
        conditions=(
            ConditionCover(
                clause="expect",
                text="gap(a, b) >= reach(a)",
                file="spacing.rules",
                line=6,
                marks=_marks(true=2, false=1, unknown=1, met_within_a_step=1, missed_within_a_step=0),
            ),
            ConditionCover(
                clause="unless",
                text="divider(a, b)",
                file="spacing.rules",
                line=7,
                marks=_marks(true=1, false=1, unknown=0),
            ),
            ConditionCover(
                clause="unless",
                joined="or",
                text="fenced(a)",
                file="spacing.rules",
                line=7,
                marks=_marks(true=1, false=1, unknown=1),
            ),
        ),
        gaps=(gap,) if gaps else (),
    )


def defined() -> ThingCover:
    """Return a definition of one case that is taken."""
    case = ConditionCover(
        clause="case", text="2 cm otherwise", file="spacing.rules", line=9, marks=_marks(taken=3)
    )
    return ThingCover(name="room", kind="definition", file="spacing.rules", line=8, conditions=(case,))


def by_eye() -> ThingCover:
    """Return a rule that is checked by eye."""
    none = tuple(Mark(what=what, seen=0, needed=False) for what in ("holds", "fails", "undecided"))
    return ThingCover(name="looks-well", kind="rule", file="a.rules", line=1, by_eye=True, verdicts=none)


def cover(*things: ThingCover, failed: int = 0) -> CoverAnswer:
    """Return what some examples reach."""
    chosen = things or (covered(), by_eye(), defined())
    total = tally(mark for thing in chosen for mark in thing.marks)
    return CoverAnswer(examples=3, outcomes=5, failed=failed, things=chosen, total=total)


def change(kind: str = "strictness", after: str = "gap(a, b) > reach(a)") -> Change:
    """Return a small change of a rule."""
    return Change(
        thing="keep-clear",
        kind=kind,
        clause="expect",
        file="spacing.rules",
        line=6,
        before="gap(a, b) >= reach(a)",
        after=after,
    )


def mutated() -> MutateAnswer:
    """Return four changes: two noticed, two not; and one that changes nothing."""
    found = Survivor(
        change=change(), example=BLOCK, comes_out="fails by 1 cm", changed="holds", rule="keep-clear"
    )
    return MutateAnswer(
        tried=4,
        noticed=2,
        survivors=(found, Survivor(change=change("left out", ""))),
        same=(SameMeaning(change=change("denied"), why="it says the same in other words"),),
        left_out=("looks-well: it is checked by eye",),
    )
