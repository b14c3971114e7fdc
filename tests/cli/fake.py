"""A stand-in for the layer below, so that the command line is tested alone."""

from __future__ import annotations

import sys
import types
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import pytest

import advisor
from advisor.errors import Problem, UnusableInput, unusable
from advisor.model.coverage import CoverAnswer
from advisor.model.fixes import FileFix
from advisor.model.handling import HandlingAnswer
from advisor.model.lightanswer import LightAnswer, LightFitAnswer
from advisor.model.mutation import MutateAnswer
from advisor.model.results import (
    AuditAnswer,
    CardAnswer,
    ExampleResult,
    ExamplesAnswer,
    MovedExample,
    WhereAnswer,
    WhyAnswer,
)
from advisor.model.statistics import StatsAnswer
from advisor.model.tank import Event, EventKind
from tests.reports import samples, samples_of_proofs, samples_of_statistics
from tests.reports.test_handling import SHEET


@dataclass
class FakeSession:
    """A session that gives the samples for answers."""

    where_answer: WhereAnswer = field(default_factory=samples.where_torch)
    why_answer: WhyAnswer = field(default_factory=samples.why_not_torch)
    audit_answer: AuditAnswer = field(default_factory=samples.audit_lagoon)
    problems: tuple[Problem, ...] = ()
    inside: tuple[Problem, ...] = ()
    waiting: tuple[str, ...] = ("torch-2", "candy-1")
    waiting_taxa: tuple[str, ...] = ("torch", "candy cane")
    asked: list[object] = field(default_factory=list)
    light_answer: LightAnswer = field(default_factory=lambda: LightAnswer(place="?", missing=("the lamps",)))
    fit_answer: LightFitAnswer = field(default_factory=LightFitAnswer)

    def light(self, place: str, lamps: Sequence[str] = ()) -> LightAnswer:
        self.asked.append(("light", place, tuple(lamps)))
        return self.light_answer

    def light_fit(self) -> LightFitAnswer:
        self.asked.append("light fit")
        return self.fit_answer

    def inside_rocks(self) -> tuple[Problem, ...]:
        return self.inside

    def where(self, coral: str, *, level: int = 1) -> WhereAnswer:
        self.asked.append(("where", coral, level))
        if coral == "torhc":
            raise unusable((Problem("coral-101", "I know no 'torhc'", mend="torch"),))
        return self.where_answer

    def where_each(self, corals: Sequence[str], *, level: int = 1) -> list[WhereAnswer]:
        return [self.where(coral, level=level) for coral in corals]

    def why(self, coral: str, spot: str | None, *, level: int = 1) -> WhyAnswer:
        self.asked.append(("why", coral, spot, level))
        return self.why_answer

    def audit(self, months: int | None, *, level: int = 1) -> AuditAnswer:
        self.asked.append(("audit", months, level))
        return self.audit_answer


@dataclass
class FakeApi:
    """What the command line was told to do, and what it gets back."""

    session: FakeSession = field(default_factory=FakeSession)
    opened: list[dict[str, object]] = field(default_factory=list)
    changed: list[tuple[object, ...]] = field(default_factory=list)
    rule_problems: tuple[Problem, ...] = ()
    idle: tuple[Problem, ...] = ()
    fixes: tuple[FileFix, ...] = ()
    fixed: list[tuple[Path, ...]] = field(default_factory=list)
    results: tuple[ExampleResult, ...] = ()
    moved: tuple[MovedExample, ...] = ()
    examples_asked: list[dict[str, object]] = field(default_factory=list)
    cover: CoverAnswer = field(default_factory=samples_of_proofs.cover)
    mutated: MutateAnswer = field(default_factory=samples_of_proofs.mutated)
    stats: StatsAnswer = field(default_factory=samples_of_statistics.stats)
    stats_asked: list[tuple[Path, ...]] = field(default_factory=list)
    cards_asked: list[tuple[tuple[str, ...], tuple[str, ...]]] = field(default_factory=list)
    lapsed: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    understood: tuple[str, tuple[Problem, ...]] = ("", ())
    odd: tuple[Problem, ...] = ()
    fault: BaseException | None = None
    handling: HandlingAnswer = field(default_factory=lambda: SHEET)

    def open_tank(
        self,
        folder: Path | None,
        *,
        on: date,
        house: Sequence[Path] = (),
        rules: Path | None = None,
        horizon_months: int | None = None,
    ) -> FakeSession:
        if self.fault is not None:
            raise self.fault
        self.opened.append(
            {"folder": folder, "on": on, "house": house, "rules": rules, "months": horizon_months}
        )
        return self.session

    def house_warnings(
        self, *, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None
    ) -> tuple[Problem, ...]:
        return ()

    def card(
        self,
        names: Sequence[str],
        *,
        ids: Sequence[str] = (),
        rules: Path | None = None,
        house: Sequence[Path] = (),
        on: date | None = None,
        folder: Path | None = None,
        strict: bool = False,
    ) -> list[CardAnswer]:
        self.cards_asked.append((tuple(names), tuple(ids)))
        return [samples.card_torch() for _ in names]

    def rule_statistics(
        self, tanks: Sequence[Path], *, on: date, rules: Path | None = None, house: Sequence[Path] = ()
    ) -> StatsAnswer:
        self.stats_asked.append(tuple(tanks))
        return self.stats

    def check_rules(
        self,
        files: Sequence[Path] | None,
        *,
        rules: Path | None = None,
        house: Sequence[Path] = (),
        on: date | None = None,
    ) -> tuple[tuple[Problem, ...], dict[str, int]]:
        return self.rule_problems, {"rule": 34, "card": 1}

    def house_in_tank(
        self, folder: Path | None, *, on: date, rules: Path | None = None, house: Sequence[Path] = ()
    ) -> tuple[Problem, ...]:
        return self.idle

    def fix_files(self, files: Sequence[Path]) -> tuple[FileFix, ...]:
        self.fixed.append(tuple(files))
        return self.fixes

    def house_rules(self, folder: Path | None) -> tuple[Path, ...]:
        return ()

    def rule_reaches(
        self, *, rules: Path | None = None, house: Sequence[Path] = (), on: date | None = None
    ) -> tuple[tuple[str, str], ...]:
        return (("keep-clear", "within 60 cm"), ("not-too-bright", "each animal"))

    def run_examples(
        self,
        files: Sequence[Path] = (),
        *,
        only: Sequence[str] = (),
        rules: Path | None = None,
        house: Sequence[Path] = (),
        own: Sequence[Path] = (),
        on: date | None = None,
    ) -> ExamplesAnswer:
        self.examples_asked.append({"files": list(files), "only": list(only), "house": list(house)})
        return ExamplesAnswer(examples=self.results, moved=self.moved)

    def cover_rules(
        self,
        names: Sequence[str] = (),
        *,
        rules: Path | None = None,
        house: Sequence[Path] = (),
        on: date | None = None,
    ) -> CoverAnswer:
        return self.cover

    def mutate_rules(
        self,
        names: Sequence[str] = (),
        *,
        most: int | None = None,
        rules: Path | None = None,
        house: Sequence[Path] = (),
        on: date | None = None,
        told: Callable[[int, int], None] | None = None,
    ) -> MutateAnswer:
        if told is not None:
            told(1, 1)
        self.changed.append(("mutate", list(names), most))
        return self.mutated

    def handle(
        self,
        coral: str,
        doing: str = "",
        *,
        on: date,
        folder: Path | None = None,
        house: Sequence[Path] = (),
        rules: Path | None = None,
    ) -> HandlingAnswer:
        self.changed.append(("handle", coral, doing, on, folder, house, rules))
        return self.handling

    def schema(self, name: str) -> dict[str, object]:
        return {"title": name}

    def tank_questions(self) -> tuple[tuple[str, str], ...]:
        return ("name", "What is the tank called?"), ("glass", "How big is the glass?")

    def new_tank(self, folder: Path, answers: dict[str, str], corals: str) -> None:
        self.changed.append(("new", folder, answers, corals))

    def understood_as(self, folder: Path, called: str) -> tuple[str, tuple[Problem, ...]]:
        return self.understood

    def list_remarks(self, corals: str) -> tuple[str, ...]:
        return self.remarks

    def _event(self, kind: EventKind, subject: str, spot: str = "") -> Event:
        return Event(id="e-7", on=samples.TODAY, kind=kind, subject=subject, spot=spot)

    def add_coral(
        self, folder: Path, name: str, *, on: date, id: str, spot: str, facts: dict[str, str]
    ) -> Event:
        self.changed.append(("coral", folder, name, on, id, spot, facts))
        return self._event(EventKind.ADDED, id or name, spot)

    def add_spot(self, folder: Path, name: str, *, on: date, at: str, facts: dict[str, str]) -> Event:
        self.changed.append(("spot", folder, name, on, at, facts))
        return self._event(EventKind.ADDED, name)

    def add_reading(
        self, folder: Path, subjects: tuple[str, ...], measure: str, value: str, *, on: date, how: str
    ) -> Event:
        self.changed.append(("reading", folder, subjects, measure, value, on, how))
        return self._event(EventKind.MEASURED, subjects[0])

    def move(self, folder: Path, coral: str, spot: str, *, on: date, note: str) -> Event:
        self.changed.append(("move", folder, coral, spot, on, note))
        return self._event(EventKind.MOVED, coral, spot)

    def hardly_possible(self, folder: Path, event: Event) -> tuple[Problem, ...]:
        return self.odd

    def lapsed_accepts(self, folder: Path, animal: str, *, on: date) -> tuple[str, ...]:
        return self.lapsed


def install(monkeypatch: pytest.MonkeyPatch) -> FakeApi:
    """Put a fresh stand-in where the command line looks for the API."""
    fake = FakeApi()
    module = types.ModuleType("advisor.api")
    for name in dir(fake):
        if not name.startswith("_"):
            setattr(module, name, getattr(fake, name))
    monkeypatch.setitem(sys.modules, "advisor.api", module)
    monkeypatch.setattr(advisor, "api", module, raising=False)
    return fake


def no_tank() -> UnusableInput:
    """Return the fault of a broken tank file."""
    return unusable(samples.problems())
