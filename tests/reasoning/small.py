"""A small vocabulary and quick ways from rule text to compiled rules and truths."""

from __future__ import annotations

import numpy as np

from advisor.errors import Span
from advisor.language.library import Library
from advisor.language.nodes import (
    Action,
    Define,
    Example,
    Expr,
    Handling,
    HouseEdit,
    Let,
    Lever,
    Prefer,
    Rule,
    WordMeaning,
)
from advisor.language.parse import parse_file
from advisor.language.since import events_asked
from advisor.model.vocabulary import Kind, Measure, Relation, Vocabulary
from advisor.reasoning.bindings import Bindings, Population
from advisor.reasoning.columns import ASSUMED, MISSING, Flags, Numbers, Truths
from advisor.reasoning.compile import CompiledRule, compile_rule
from advisor.reasoning.frame import Frame
from advisor.reasoning.tables import Tables

VOCABULARY = """edition 1
measure group(animal a) one of soft, stony, clam, anemone from card group, keeper ask "kind of {a}?"
measure genus(animal a) a name from card genus ask "genus of {a}?"
measure weapons(animal a) several of filaments, sweepers, mucus from card weapon ask "weapons of {a}?"
measure reach(animal a) in cm between 0 and 60 cm step 1 cm from card weapon-reach ask "reach of {a}?"
measure potency(animal a) in rank between 0 and 5 step 1 from card weapon-potency ask "sting of {a}?"
measure size(animal a) in cm between 0.5 and 150 cm step 0.5 cm error 10 % from keeper ask "size of {a}?"
measure grows(animal a) in mm/month between 0 and 40 mm/month step 0.5 mm/month from card growth-out
  ask "growth of {a}?"
measure origin(animal a) in PAR between 0 and 2500 PAR step 5 PAR from keeper
  assume 40 to 110 PAR when unknown because "most shops are dim" kind guess  ask "where was {a}?"
measure light(place p) in PAR between 0 and 2500 PAR step 5 PAR error 10 % stale after 90 days from keeper
  ask "light at {p}?"
measure ground(place p) one of rock, sand from keeper ask "ground at {p}?"
measure gap(animal a, animal b) in cm between 0 and 500 cm step 1 cm error 1 cm at a month from keeper
  ask "tape {a} to {b}"
relation above(animal a, animal b) from keeper ask "is {a} above {b}?"
relation divider(animal a, animal b) given from keeper
relation fenced(animal a) given from keeper
measure warmth(tank) in °C between 0 and 45 °C step 0.5 °C error 0.5 K from keeper ask "thermometer"
measure salt(tank) in ppt between 0 and 60 ppt step 0.5 ppt from keeper ask "salt"
"""

NOWHERE = Span("test")


def library_of(text: str = "", vocabulary: str = VOCABULARY) -> Library:
    """Return a library of `text` over a vocabulary; a mistake in either fails the test."""
    measures: dict[str, Measure] = {}
    relations: dict[str, Relation] = {}
    library = Library(Vocabulary(measures, relations))
    listed: dict[str, list[object]] = {"words": [], "examples": [], "house": []}
    for name, part in (("vocabulary", vocabulary), ("rules", "edition 1\n" + text)):
        file, problems = parse_file(name, part)
        assert problems == ()
        for item in file.declarations:
            match item:
                case Measure():
                    measures[item.name] = item
                case Relation():
                    relations[item.name] = item
                case Let():
                    library.lets[item.name] = item
                case Define():
                    library.defines[item.name] = item
                case Rule():
                    library.rules[item.name] = item
                case Prefer():
                    library.prefers[item.name] = item
                case Lever():
                    library.levers[item.name] = item
                case Example():
                    listed["examples"].append(item)
                case WordMeaning():
                    listed["words"].append(item)
                case HouseEdit():
                    listed["house"].append(item)
                case Action():
                    library.actions[item.name] = item
                case Handling():
                    library.handlings[item.name] = item
                case _:
                    library.cards[item.name] = item
    asking: list[Define | Rule | Prefer] = [
        *library.defines.values(), *library.rules.values(), *library.prefers.values(),
    ]  # fmt: skip
    for declared in asking:
        measures.update({measure.name: measure for measure in events_asked(declared)})
    return Library(
        library.vocabulary,
        library.lets,
        library.defines,
        library.rules,
        library.prefers,
        library.cards,
        tuple(item for item in listed["words"] if isinstance(item, WordMeaning)),
        tuple(item for item in listed["examples"] if isinstance(item, Example)),
        tuple(item for item in listed["house"] if isinstance(item, HouseEdit)),
        library.levers,
        library.actions,
        library.handlings,
    )


def rule_text(
    expect: str,
    *,
    name: str = "tested",
    binders: str = "animal a",
    when: str = "",
    unless: str = "",
    level: str = "warning",
    because: str = "so it is",
    horizon: bool = False,
) -> str:
    """Return the text of one rule."""
    clauses = [f"rule {name}", f"  for {binders}"]
    clauses += [f"  when {when}"] if when else []
    clauses += [f"  expect {expect}{' until horizon' if horizon else ''}"]
    clauses += [f"  unless {unless}"] if unless else []
    clauses += [
        f"  level {level}",
        f'  because "{because}"',
        '  matters "it does"',
        '  remedy "mend it"',
        '  source "a test" kind guess',
    ]
    return "\n".join(clauses) + "\n"


def compiled_of(
    expect: str,
    *,
    more: str = "",
    binders: str = "animal a",
    when: str = "",
    unless: str = "",
    level: str = "warning",
    because: str = "so it is",
    horizon: bool = False,
) -> tuple[Library, CompiledRule]:
    """Return a library with one rule named ``tested``, and that rule compiled."""
    library = library_of(
        more
        + "\n"
        + rule_text(
            expect, binders=binders, when=when, unless=unless, level=level, because=because, horizon=horizon
        )
    )
    return library, compile_rule(library.rules["tested"], library)


def expect_of(library: Library, name: str = "tested") -> Expr:
    """Return the expectation of a rule."""
    found = library.rules[name].expect
    assert found is not None
    return found


def frame_over(
    tables: Tables, population: Population, bindings: Bindings, *, month: float = 0.0, assume: bool = True
) -> Frame:
    """Return a frame over some bindings."""
    return Frame(tables, population, bindings.worlds, bindings.rows, np.full(len(bindings), month), assume)


def animal_binding(rows: dict[str, int], world: int = 0) -> Bindings:
    """Return one binding."""
    return Bindings(
        np.array([world], np.int64), {name: np.array([row], np.int64) for name, row in rows.items()}
    )


def plain_flags(size: int) -> Flags:
    """Return flags of values that are known."""
    return np.zeros(size, np.uint8)


def ranges(*found: tuple[float, float] | tuple[float, float, float]) -> Numbers:
    """Return a column of ranges, (low, high) or (low, best, high)."""
    low = [item[0] for item in found]
    high = [item[-1] for item in found]
    best = [item[1] if len(item) == 3 else np.nan for item in found]
    return Numbers(
        np.array(low, float), np.array(best, float), np.array(high, float), plain_flags(len(found))
    )


def letters(of: Truths) -> str:
    """Return a column of truths as ``t``, ``f`` and ``u``; never both."""
    assert not (of.yes & of.no).any()
    return "".join("t" if yes else "f" if no else "u" for yes, no in zip(of.yes, of.no, strict=True))


def missing(size: int) -> Flags:
    """Return flags of values nobody knows."""
    return np.full(size, MISSING, np.uint8)


def assumed(size: int) -> Flags:
    """Return flags of values that are only reckoned with."""
    return np.full(size, ASSUMED, np.uint8)


ANIMAL = Kind.ANIMAL
