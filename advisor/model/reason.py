"""One rule at one binding, and what it is made of: verdict, numbers, steps, grounds, what is missing."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from pydantic import SerializerFunctionWrapHandler, model_serializer

from advisor.model.tank import Model


class Verdict(StrEnum):
    """What a rule says of one binding."""

    HOLDS = "holds"
    FAILS = "fails"
    UNDECIDED = "undecided"
    EXCUSED = "excused"
    ACCEPTED = "accepted"
    NOT_COVERED = "not covered"
    BY_EYE = "by eye"


class Ground(Model):
    """Where a number comes from, ready to print."""

    text: str
    grade: str = ""
    on: date | None = None
    age_days: int | None = None
    source: str = ""
    file: str = ""
    line: int = 0


class Value(Model):
    """A quantity, words or a truth. Numbers are in `unit`, as a 90 % range."""

    low: float | None = None
    best: float | None = None
    high: float | None = None
    unit: str = ""
    words: tuple[str, ...] = ()
    truth: bool | None = None
    known: bool = True
    kind: str = ""
    """measured, stated, computed, card, vouched, assumed or unknown."""


class Step(Model):
    """One node of the recorded evaluation; as JSON, keys that would say nothing are left out."""

    id: str
    """Stable: rule, binding and path, such as ``keep-clear(torch-1,zoa-2)/expect/1``.

    A path goes by the numbers of a formula's parts and by the names of what an
    aggregate binds; an animal that is only thought to stand somewhere has its
    place behind it: ``torch-1@left-ledge``.
    """
    op: str
    """measure, relation, define, let, number, compare, between, is, and, or, not, aggregate …"""
    text: str
    """What this node is, in words: ``gap between torch-1 and zoa-2``."""
    value: Value
    margin: Value | None = None
    margin_steps: float | None = None
    cause: str = ""
    grounds: tuple[Ground, ...] = ()
    house: tuple[str, ...] = ()
    """What the keeper's own files changed right here, and lines of them that do not count."""
    decides: bool = False
    """Whether the verdict rests on this cell: were it not known, the verdict would not stand."""
    same_as: str = ""
    """Id of an earlier step of the same document that says the same; grounds and inputs stand there."""
    inputs: tuple[Step, ...] = ()

    @model_serializer(mode="wrap")
    def _without_what_says_nothing(self, dump: SerializerFunctionWrapHandler) -> dict[str, object]:
        """The step without empty keys, also of its values and grounds: there may be thousands."""
        told = {key: _telling(value) for key, value in dump(self).items() if not _is_nothing(value)}
        return told if self.decides else {key: value for key, value in told.items() if key != "decides"}


def _telling(value: object) -> object:
    """A part of a step without keys that are empty."""
    if isinstance(value, dict):
        return {key: each for key, each in value.items() if not _is_nothing(each)}
    if isinstance(value, list | tuple):
        return [_telling(each) for each in value]
    return value


def _is_nothing(value: object) -> bool:
    """Whether a value is the empty one of its kind; 0 and no are values like any other."""
    return value is None or (isinstance(value, str | list | tuple) and not value)


class Need(Model):
    """A reading or look that would settle something."""

    measure: str
    subjects: tuple[str, ...]
    ask: str
    settles: int = 1
    command: str = ""
    """What to type once it is known, the value left as ``…``; empty where no command takes it."""


class Months(Model):
    """When something to come begins: earliest, expected, latest month. None: not within the horizon."""

    earliest: date
    expected: date | None
    latest: date | None


class Reason(Model):
    """One rule at one binding: its verdict and both numbers."""

    id: str
    rule: str
    level: str
    stage: str
    verdict: Verdict
    cause: str = ""
    lean: str = ""
    subjects: tuple[str, ...]
    """Ids of the bound things, in the order of the rule's binders."""
    quantity: str = ""
    """Short row label: ``light``, ``gap to hammer-1``."""
    here: Value | None = None
    wanted_low: Value | None = None
    wanted_high: Value | None = None
    margin: Value | None = None
    margin_steps: float | None = None
    sentence: str
    matters: str = ""
    remedy: str = ""
    duties: tuple[str, ...] = ()
    source: str = ""
    grade: str = ""
    weakest: str = ""
    """The weakest ground this reason rests on, in words."""
    grounds: tuple[Ground, ...] = ()
    """Grounds of what the verdict rests on, conditions included; of an open one also of its numbers."""
    how: tuple[Ground, ...] = ()
    """Grounds of the two numbers alone: those of `here` first, then those of what is wanted."""
    needs: tuple[Need, ...] = ()
    house: tuple[str, ...] = ()
    accept: str = ""
    """The whole line by which a keeper could accept this, told where the steps are."""
    echoes: tuple[str, ...] = ()
    """What fails of the same things and is not told by itself: the number it is opened by, and its rule."""
    until: Months | None = None
    """Set where the rule holds now and fails later."""
    disputed: bool = False
    """Whether two lines of a card disagree and the one that does not govern would change the verdict."""
    number: str = ""
    """The number it is printed under, the same however deep the answer is read; empty where it has none."""
    controllable: bool = True
    """Whether it turns on something in the tank, not only on what cards say."""
    decides: tuple[Step, ...] = ()
    """From level 2: the cells the verdict rests on, the most telling first.

    With nothing else known the verdict would be the same; without any one of
    them it would not.
    """
    apart_cm: float | None = None
    """Of a rule about two animals: how far apart they are, edge to edge, as far as that is known. [cm]"""
    months_ahead: int = 0
    """0 where the numbers are of today, otherwise for how many months ahead they are reckoned."""
    step: Step | None = None
    """From level 3: the way to those cells, and to what would settle it; from level 4 all there is."""
