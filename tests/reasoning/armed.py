"""Small random tanks with weapons, rocks, lamps, pumps and fish, and rules about them. All invented."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from advisor.language.library import Library
from advisor.model.changes import CardChoice, Change, SetFact
from advisor.model.tank import Animal, Fact, Fish, Lamp, Pump, Rock, Statement, Tank
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.survey import Survey, make_survey
from tests.reasoning.survey_samples import RULES, TODAY, animal, library_of, spot

WEAPONS = ("filaments", "sweeper-tentacles", "mucus", "tentacles")
MEASURES = (RULES / "measures.rules").read_text(encoding="utf-8")
EXTRA = """
measure mood(fish f, animal a) one of calm, wild from keeper
  say "how {f} treats {a}"  ask "How does {f} treat {a}?"
measure habits(fish f, animal a) several of rubs, bites from keeper
  say "what {f} does to {a}"  ask "What does {f} do to {a}?"
measure pull(pump p, place q) in cm/s between 0 and 90 cm/s step 1 cm/s from keeper
  say "pull of {p} at {q}"  ask "How does {p} pull at {q}?"
measure ties(animal a, animal b) a name from keeper  say "{a} and {b}"  ask "Who are {a} and {b}?"
"""


def card_text(rng: np.random.Generator, name: str) -> str:
    """Return a card with some weapons, or none."""
    lines = [f'card {name} "{name}"', "  group large-polyp"]
    armed = [weapon for weapon in WEAPONS if rng.random() < 0.5]
    for weapon in armed:
        line = f"  weapon {weapon}"
        if rng.random() < 0.85:
            line += f" at-most {rng.integers(1, 13)} cm"
        if rng.random() < 0.85:
            line += f" potency {rng.integers(0, 6)}"
        lines.append(line)
    return "\n".join(lines if armed else [*lines, "  weapon none"])


@lru_cache
def _vocabulary() -> Library:
    """The shipped vocabulary with ours, read once."""
    return library_of([("measures.rules", MEASURES), ("extra.rules", f"edition 1\n{EXTRA}")])


@lru_cache(maxsize=200)
def _read(text: str) -> Library:
    """Some declarations of ours, read once."""
    return library_of([("rules.rules", f"edition 1\n\n{text}\n")])


def library(rules: str, cards: Sequence[str]) -> Library:
    """Return the shipped vocabulary with some cards and rules."""
    base, own = _vocabulary(), _read(rules)
    known = {name: card for text in cards for name, card in _read(text).cards.items()}
    return replace(base, rules=own.rules, defines=own.defines, cards=known)


def rule_text(binders: str, expect: str, when: str = "", level: str = "warning", name: str = "r") -> str:
    """Return a rule."""
    condition = f"\n  when {when}" if when else ""
    return f'rule {name}\n  for {binders}{condition}\n  expect {expect}\n  level {level}\n  because "x"'


def compiled(rules: Library, name: str = "r") -> CompiledRule:
    """Return a rule of a library, compiled."""
    return compile_rule(rules.rules[name], rules)


@dataclass(frozen=True, slots=True)
class Sample:
    """A tank, the cards its animals may have, and changes of it."""

    tank: Tank
    cards: dict[str, CardChoice]
    worlds: tuple[Change, ...]

    def survey(self, rules: Library) -> Survey:
        """Return the tables of the tank and its changes."""
        return make_survey(self.tank, rules, TODAY, worlds=self.worlds, cards=self.cards)


def _word(rng: np.random.Generator, *words: str) -> Statement:
    """One of some words."""
    return Statement(words=(str(rng.choice(words)),))


def random_sample(seed: int, cards: int = 3) -> Sample:
    """Return a tank in which about half of what can be told is told."""
    rng = np.random.default_rng(seed)
    rocks = tuple(Rock(id=f"rock-{at}", touches=_touches(rng, at)) for at in range(2))
    spots = [spot(f"s-{at}", rock=str(rng.choice(["", "rock-0", "rock-1"]))) for at in range(2)]
    animals: list[Animal] = [animal(f"a-{at}", at=f"s-{at}") for at in range(2)]
    animals.append(animal("a-2", at="", rock=str(rng.choice(["", "rock-1"]))))
    facts: list[Fact] = []

    def tell(measure: str, subjects: tuple[str, ...], said: Statement) -> None:
        if rng.random() < 0.6:
            facts.append(Fact(measure=measure, subjects=subjects, said=said))

    for at in range(2):
        tell("pump-guard", (f"p-{at}",), _word(rng, "yes", "no"))
        tell("pump-flow", (f"p-{at}",), Statement(best=float(rng.integers(10, 60)) * 100))
        tell("lamp-kind", (f"l-{at}",), _word(rng, "led", "tube"))
        tell("lamp-age", (f"l-{at}",), Statement(best=float(rng.integers(0, 800))))
        tell("nips", (f"f-{at}",), Statement(truth=bool(rng.random() < 0.5)))
        tell("fish-size", (f"f-{at}",), Statement(best=float(rng.integers(2, 20))))
        tell("ground", (f"s-{at}",), _word(rng, "rock", "sand"))
        tell("moat", (f"s-{at}",), Statement(best=float(rng.integers(0, 20))))
        tell("slope", (f"s-{at}",), Statement(best=float(rng.integers(0, 90))))
        tell("gap", (f"a-{at}", "a-2"), Statement(best=float(rng.integers(0, 20)), error=1.0))
        for other in range(3):
            tell("mood", (f"f-{at}", f"a-{other}"), _word(rng, "calm", "wild"))
            tell("habits", (f"f-{at}", f"a-{other}"), Statement(words=("rubs",)))
            tell("pull", (f"p-{at}", f"s-{other % 2}"), Statement(best=float(rng.integers(0, 30))))
    told = tuple(kind for kind in ("rock", "lamp", "pump", "fish") if rng.random() < 0.7)
    tank = Tank(
        id="sample",
        name="sample",
        spots=tuple(spots),
        animals=tuple(animals),
        rocks=rocks,
        lamps=tuple(Lamp(id=f"l-{at}") for at in range(2)),
        pumps=tuple(Pump(id=f"p-{at}") for at in range(2)),
        fish=tuple(Fish(id=f"f-{at}", kind=str(rng.choice(["tang", "goby", "oddity"]))) for at in range(2)),
        facts=tuple(facts),
        told=told,
    )
    names = [f"c-{at}" for at in range(cards)]
    choice = {each.id: CardChoice(_some(rng, names)) for each in animals}
    return Sample(tank, choice, _changes(rng))


def _touches(rng: np.random.Generator, at: int) -> tuple[str, ...] | None:
    """What a rock touches: the other one, none, or not told."""
    return (None, (), (f"rock-{1 - at}",))[int(rng.integers(0, 3))]


def _some(rng: np.random.Generator, names: Sequence[str]) -> tuple[str, ...]:
    """Some of the cards, perhaps none, in their order."""
    return tuple(name for name in names if rng.random() < 0.6)


def _changes(rng: np.random.Generator) -> tuple[Change, ...]:
    """Changes of a place, a pump, a fish and two things at once."""
    facts = (
        Fact(measure="moat", subjects=("s-0",), said=Statement(best=float(rng.integers(0, 20)))),
        Fact(measure="pump-guard", subjects=("p-0",), said=_word(rng, "yes", "no")),
        Fact(measure="nips", subjects=("f-1",), said=Statement(truth=True)),
        Fact(measure="mood", subjects=("f-0", "a-0"), said=_word(rng, "calm", "wild")),
        Fact(measure="pull", subjects=("p-1", "s-1"), said=Statement(best=float(rng.integers(0, 30)))),
        Fact(
            measure="touches", subjects=("rock-0", "rock-1"), said=Statement(truth=bool(rng.random() < 0.5))
        ),
    )
    return tuple((SetFact(fact),) for fact in facts)
