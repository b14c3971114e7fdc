"""Small tanks and rule files for the tests of the survey. All corals, tanks and numbers are invented."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from datetime import date
from functools import lru_cache
from pathlib import Path

import numpy as np

from advisor.language.house import lay_over
from advisor.language.library import Library
from advisor.language.nodes import Card, Define, HouseEdit, Let, Prefer, Rule, WordMeaning
from advisor.language.parse import parse_file
from advisor.language.since import events_asked
from advisor.model.cells import Cell, NumberCell, SetCell, TruthCell, WordCell
from advisor.model.changes import CardChoice, Change
from advisor.model.tank import Animal, Box, Fact, Phase, Said, Spot, Statement, Tank
from advisor.model.vocabulary import Measure, Relation, Vocabulary
from advisor.reasoning.columns import Ints, Numbers
from advisor.reasoning.survey import Survey, make_survey

RULES = Path(__file__).resolve().parents[2] / "rules"
TODAY = date(2026, 11, 2)

CARDS = """edition 1

card stinger "stinger coral"
  taxon "Examplea urens"  genus examplea  group large-polyp  lives-on light
  light min 50 PAR best 80 to 150 PAR max 250 PAR  source "three growers' guides" kind experience
  flow min 4 cm/s best 6 to 15 cm/s max 22 cm/s
  weapon sweeper-tentacles reach 10 cm at-most 25 cm potency 4
  weapon filaments reach 2 cm at-most 3 cm potency 3
  defence 3
  growth form phaceloid up 2 mm/month out 3 mm/month mature-width 30 cm mature-height 20 cm
  footing rock, rack faces up
  swells most 2 times
  edge skeleton
  source "trade knowledge" kind guess

card mat "mat coral"
  taxon "Examplea mollis"  genus examplella  group soft
  light min 40 PAR best 60 to 120 PAR max 200 PAR
  light max 300 PAR  source "one keeper" kind guess
  weapon none
  growth form mat up 1 mm/month out 5 mm/month mature-width 60 cm
  swells most 3 times
  edge open
  source "trade knowledge" kind experience

card plate "plate coral"
  taxon "Examplea plana"  genus examplea  group small-polyp
  light min 100 PAR best 150 to 300 PAR max 400 PAR
  weapon filaments reach 1 cm at-most 2 cm potency 2
  growth form plate up 1 mm/month out 4 mm/month mature-width 40 cm
  edge skeleton
  source "trade knowledge" kind experience
"""


@lru_cache
def library(extra: str = "", house: str = "") -> Library:
    """Return the vocabulary that is shipped, with invented cards."""
    measures = (RULES / "measures.rules").read_text(encoding="utf-8")
    texts = [("measures.rules", measures), ("cards.rules", CARDS)]
    texts += [
        (name, f"edition 1\n\n{text}\n")
        for name, text in (("extra.rules", extra), ("house.rules", house))
        if text
    ]
    return library_of(texts)


def told_twice(line: str, extra: str = "", *, taxon: str = "mat") -> Library:
    """Return the sample rules in which one line of a card is told once more, by another source."""
    card, end = f'card {taxon} "', '  source "trade knowledge"'
    before, after = CARDS.split(card, 1)
    body, rest = after.split(end, 1)
    text = f'{before}{card}{body}  {line}  source "another" kind guess\n{end}{rest}'
    measures = (RULES / "measures.rules").read_text(encoding="utf-8")
    more = [("extra.rules", f"edition 1\n\n{extra}\n")] if extra else []
    return library_of([("measures.rules", measures), ("cards.rules", text), *more])


def library_of(texts: Sequence[tuple[str, str]]) -> Library:
    """Return the library of some rule files, not proved; house lines are laid over."""
    found = Library(Vocabulary())
    words: list[WordMeaning] = []
    house: list[HouseEdit] = []
    for name, text in texts:
        tree, problems = parse_file(name, text)
        assert not problems, [problem.what for problem in problems]
        for each in tree.declarations:
            match each:
                case Measure():
                    found.vocabulary.measures[each.name] = each
                case Relation():
                    found.vocabulary.relations[each.name] = each
                case Let():
                    found.lets[each.name] = each
                case Define():
                    found.defines[each.name] = each
                case Rule():
                    found.rules[each.name] = each
                case Prefer():
                    found.prefers[each.name] = each
                case Card():
                    found.cards[each.name] = each
                case WordMeaning():
                    words.append(each)
                case HouseEdit():
                    house.append(each)
                case _:
                    pass
    asking: list[Define | Rule | Prefer] = [
        *found.defines.values(), *found.rules.values(), *found.prefers.values(),
    ]  # fmt: skip
    for item in asking:
        found.vocabulary.measures.update({measure.name: measure for measure in events_asked(item)})
    plain = Library(found.vocabulary, found.lets, found.defines, found.rules, found.prefers, found.cards,
                    tuple(words))  # fmt: skip
    laid, refused = lay_over(plain, house)
    assert not refused, [problem.what for problem in refused]
    return laid


def point(x: float, y: float, z: float = 10.0) -> Box:
    """Return an exact position. [cm]"""
    return Box(x=(x, x), y=(y, y), z=(z, z))


def spot(name: str, at: Box | None = None, **more: object) -> Spot:
    """Return a spot."""
    return Spot.model_validate({"id": name, "box": at, **more})


def animal(
    name: str, taxon: str = "stinger", at: str = "", size_cm: float | None = 6.0, **more: object
) -> Animal:
    """Return an animal that is placed, on a spot or wherever its box says."""
    size = None if size_cm is None else Statement(best=size_cm, error=0.0, how="ruler")
    return Animal.model_validate(
        {"id": name, "taxon": taxon, "phase": Phase.PLACED, "spot": at, "size_cm": size, **more}
    )


def waiting(name: str, taxon: str = "stinger", size_cm: float | None = 6.0) -> Animal:
    """Return an animal that is still in its bag."""
    return animal(name, taxon, "", size_cm, phase=Phase.WAITING)


def said(best: float | None = None, **more: object) -> Statement:
    """Return a statement of the keeper."""
    return Statement.model_validate({"best": best, **more})


def read(best: float, on: date | None = None, **more: object) -> Statement:
    """Return a reading."""
    return said(best, on=on, by=Said.INSTRUMENT, how="meter", **more)


def fact(measure: str, *subjects: str, **more: object) -> Fact:
    """Return a fact; what is not a subject is what is said."""
    return Fact(measure=measure, subjects=subjects, said=Statement.model_validate(more))


def gap(one: str, other: str, best: float, on: date | None = None, error: float | None = 0.0) -> Fact:
    """Return a measured gap. [cm]"""
    return fact("gap", one, other, best=best, error=error, on=on, how="tape")


def tank(
    spots: Sequence[Spot] = (), animals: Sequence[Animal] = (), facts: Sequence[Fact] = (), **more: object
) -> Tank:
    """Return a tank."""
    told = {"spots": tuple(spots), "animals": tuple(animals), "facts": tuple(facts)}
    return Tank.model_validate({"id": "sample", "name": "sample", "invented": True, **told, **more})


def choices(of: Tank, names: Mapping[str, tuple[str, ...]] | None = None) -> dict[str, CardChoice]:
    """Return the card each animal's taxon names, unless told otherwise."""
    known = library().cards
    found = {each.id: CardChoice((each.taxon,) if each.taxon in known else ()) for each in of.animals}
    return found | {name: CardChoice(cards) for name, cards in (names or {}).items()}


def survey(
    of: Tank,
    worlds: Sequence[Change] = (),
    *,
    on: date = TODAY,
    rules: Library | None = None,
    names: Mapping[str, tuple[str, ...]] | None = None,
    horizon_months: int | None = None,
) -> Survey:
    """Return the survey of a sample tank."""
    return make_survey(of, rules or library(), on, horizon_months=horizon_months, worlds=worlds,
                       cards=choices(of, names))  # fmt: skip


def rows(*numbers: int) -> Ints:
    """Return rows as an array."""
    return np.array(numbers, np.int64)


def row(of: Survey, name: str, world: int = 0) -> int:
    """Return the row of an animal."""
    found = of.animal_row(name, world)
    assert found >= 0, f"{name} does not stand in world {world}"
    return found


def number(of: Survey, name: str, *subjects: int, month: float = 0.0, assume: bool = True) -> NumberCell:
    """Return the cell of a quantity."""
    cell = of.cell(name, subjects, month, assume)
    assert isinstance(cell, NumberCell)
    return cell


def gap_of(
    of: Survey, one: str, other: str, *, world: int = 0, month: float = 0.0, assume: bool = True
) -> NumberCell:
    """Return the gap between two animals of one world."""
    return number(of, "gap", row(of, one, world), row(of, other, world), month=month, assume=assume)


def words_of(cell: Cell) -> Set[str] | None:
    """Return the words of a cell."""
    assert isinstance(cell, (WordCell, SetCell))
    return cell.possible if isinstance(cell, WordCell) else cell.possibly


def truth(of: Survey, name: str, one: str, other: str, *, world: int = 0, month: float = 0.0) -> bool | None:
    """Return whether a relation of two animals of one world holds."""
    cell = of.cell(name, (row(of, one, world), row(of, other, world)), month)
    assert isinstance(cell, TruthCell)
    return cell.value


def span(cell: NumberCell) -> tuple[float, float]:
    """Return the range of a cell, rounded to what a test can write down."""
    return round(cell.low, 6), round(cell.high, 6)


def same(column: Numbers, at: int, cell: NumberCell) -> bool:
    """Return whether one row of a column has the numbers of a cell."""
    best = None if np.isnan(column.best[at]) else float(column.best[at])
    return (float(column.low[at]), best, float(column.high[at])) == (cell.low, cell.best, cell.high)


def place_row(of: Survey, spot: str, world: int = 0) -> int:
    """Return the place row of a spot in a world: its own there, else the shared one."""
    own = np.flatnonzero(of.place_world == world) if world else ()
    found = [int(row) for row in own if of.places[int(row)].id == spot]
    return found[-1] if found else of.spot_place[spot]
