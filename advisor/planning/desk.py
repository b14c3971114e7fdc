"""One tank and one library on the table, and every question asked of a change of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches

from advisor.errors import Problem, unusable
from advisor.knowledge.cards import cautions, cautions_of_unnamed, hazards
from advisor.knowledge.names import CardMatch, find_card
from advisor.knowledge.slips import ids_meant, numbered_stem
from advisor.language.library import Library
from advisor.language.nodes import Stage
from advisor.model.cells import CellKind, NumberCell
from advisor.model.changes import CardChoice, Change
from advisor.model.results import Caution, CoralSummary, Reason, Value, Verdict
from advisor.model.tank import Animal, Phase, Spot, Tank
from advisor.planning.bench import Bench, Sitting, sitting_of
from advisor.planning.fold import speaks, table_of
from advisor.planning.pick import explained, numbered, reason_order
from advisor.reasoning.record import number_value
from advisor.reasoning.survey import Survey, make_survey
from advisor.units import UNITS, Unit

_PALYTOXIN = "palytoxin"


@dataclass(frozen=True, slots=True, eq=False)
class Desk:
    """What a question needs: the tank, the rules compiled, the cards chosen, the date."""

    tank: Tank
    bench: Bench
    cards: Mapping[str, CardChoice]
    on: date
    horizon_months: int

    @property
    def library(self) -> Library:
        """The rules and cards in force."""
        return self.bench.library

    def survey(self, worlds: Sequence[Change] = (), extra: Mapping[str, CardChoice] | None = None) -> Survey:
        """Return the tank's tables with some changes laid over, one world each."""
        return make_survey(
            self.tank,
            self.library,
            self.on,
            horizon_months=self.horizon_months,
            worlds=worlds,
            cards={**self.cards, **(extra or {})},
        )

    def sit(self, survey: Survey, base_world: int = 0, *, sees_far: bool = False) -> Sitting:
        """Return the bench before some tables, every world compared with one of them."""
        return sitting_of(self.bench, survey, self.on, self.horizon_months, base_world, sees_far=sees_far)


@dataclass(frozen=True, slots=True)
class Subject:
    """The animal a question is about, with the cards it may have."""

    animal: Animal
    choice: CardChoice
    in_tank: bool
    known_as: str = ""

    @property
    def placed(self) -> bool:
        """Whether it already stands in the tank."""
        return self.in_tank and self.animal.phase is not Phase.WAITING


def subject_named(desk: Desk, text: str) -> Subject:
    """Return the animal that `text` names: one of the tank, else a coral not yet bought.

    Raises
    ------
    UnusableInput
        If nothing of that name is in the tank and no card is near enough, or
        the name looks like an id of this tank with a slip in it.
    """
    for animal in desk.tank.animals:
        if text and (text in (animal.id, animal.name) or text.casefold() == animal.id.casefold()):
            return Subject(
                animal,
                desk.cards.get(animal.id, CardChoice(())),
                in_tank=True,
                known_as=desk.cards.get(animal.id, CardChoice(())).note,
            )
    match = find_card(text, desk.library)
    if not match.cards:
        raise unusable((_unknown_coral(desk, text, match),))
    _require_no_slip(desk, text, match)
    name = match.cards[0] if len(match.cards) == 1 else text.strip().lower().replace(" ", "-")
    animal = Animal(id=_free_id(desk.tank, name), taxon=text, phase=Phase.WAITING)
    return Subject(animal, CardChoice(match.cards, match.how), in_tank=False, known_as=match.how)


def _require_no_slip(desk: Desk, text: str, match: CardMatch) -> None:
    """Raise where a word is built like an id of this tank and is none: it is no coral from the shop."""
    stem = numbered_stem(text)
    plain = match.certain and not stem
    meant = [] if plain else ids_meant(text, [animal.id for animal in desk.tank.animals])
    if not stem and not meant:
        return
    new = stem or match.cards[0]
    near = f"did you mean {' or '.join(meant)}? " if meant else ""
    mend = f"{near}For one that is not in the tank, name it without a number: {new}"
    raise unusable((Problem("name-302", f"no animal of this tank is called '{text}'", mend=mend),))


def _free_id(tank: Tank, name: str) -> str:
    """An id for a coral not in the tank that no animal there has."""
    taken = {animal.id for animal in tank.animals}
    wanted, number = name, 1
    while wanted in taken:
        number += 1
        wanted = f"{name}-{number}"
    return wanted


def _unknown_coral(desk: Desk, text: str, match: CardMatch) -> Problem:
    """The problem of a coral nobody knows, with the nearest names."""
    near = [*match.candidates[:3]]
    ids = [animal.id for animal in desk.tank.animals]
    near = list(dict.fromkeys((*ids_meant(text, ids), *near, *get_close_matches(text, ids, 2))))
    mend = f"did you mean {', '.join(near)}?" if near else "name an animal of the tank, or a coral"
    return Problem("name-302", f"no animal of this tank and no card is called '{text}'", mend=mend)


def spot_named(desk: Desk, text: str) -> Spot:
    """Return the spot of the tank that `text` names.

    Raises
    ------
    UnusableInput
        If there is no such spot.
    """
    for spot in desk.tank.spots:
        if text in (spot.id, spot.name) or text.casefold() == spot.id.casefold():
            return spot
    near = get_close_matches(text, [spot.id for spot in desk.tank.spots], 3, 0.4)
    mend = f"did you mean {', '.join(near)}?" if near else "add one: advisor tank add spot"
    raise unusable((Problem("name-303", f"this tank has no spot called '{text}'", mend=mend),))


def cautions_for(desk: Desk, choice: CardChoice) -> tuple[Caution, ...]:
    """Return what a person must mind, over every card the animal may have, each once.

    An animal that nobody can name counts as a zoanthid, as in its handling sheet.
    """
    if not choice.cards:
        return cautions_of_unnamed(desk.library)
    found: dict[str, Caution] = {}
    for name in choice.cards:
        card = desk.library.cards.get(name)
        for caution in () if card is None else cautions(card):
            found.setdefault(caution.text, caution)
    return tuple(found.values())


def may_be_poisonous(desk: Desk, choice: CardChoice) -> bool:
    """Return whether an animal may hold palytoxin: by a card it may have, or since nobody can name it."""
    cards = (desk.library.cards[name] for name in choice.cards if name in desk.library.cards)
    return not choice.cards or any(_PALYTOXIN in hazards(card) for card in cards)


def summary_of(desk: Desk, subject: Subject, survey: Survey, row: int) -> CoralSummary:
    """Return who is asked about, with size and the light it comes from."""
    animal = subject.animal
    titles = [desk.library.cards[name].title for name in subject.choice.cards if name in desk.library.cards]
    title = titles[0] if len(titles) == 1 else f"one of {len(titles)} corals" if titles else "no card"
    size, origin = _cell_value(survey, "size", row), _cell_value(survey, "origin-light", row)
    cell = survey.cell("origin-light", (row,))
    note = "; ".join(ground.text for ground in cell.supports[:1])
    return CoralSummary(
        id=animal.id,
        title=title,
        card=", ".join(subject.choice.cards),
        known_as=subject.known_as,
        size=size,
        origin_light=origin,
        origin_note=note,
        not_in_tank=not subject.in_tank,
        place=animal.spot if subject.placed else "",
    )


def _cell_value(survey: Survey, measure: str, row: int) -> Value | None:
    """One quantity of an animal as a printed value; None where nothing is known or assumed."""
    cell = survey.cell(measure, (row,))
    declared = survey.library.vocabulary.measures[measure].type
    unit = getattr(declared, "unit", UNITS["cm"])
    if not isinstance(cell, NumberCell) or not isinstance(unit, Unit) or cell.kind is CellKind.UNKNOWN:
        return None
    best = float("nan") if cell.best is None else cell.best
    return number_value(cell.low, best, cell.high, unit, cell.kind.value, known=cell.cause is None)


def gates_of(
    desk: Desk, sitting: Sitting, *, about_world: bool, animal: str = "", level: int = 1
) -> tuple[Reason, ...]:
    """Return the gates that do not hold: judged for the tank, and for the animals asked about.

    Parameters
    ----------
    about_world
        True to ask only of the first world's own animals (and of the tank
        itself), False to ask of every animal of the tank.
    animal
        Id of the one animal that is asked about; empty for all.
    level
        How deep they are read.
    """
    planes = sitting.judge(desk.bench.at((Stage.GATE,)), ahead=False)
    table = table_of(planes, sitting, everything=True)
    keep = speaks(table) & (table.world == 0)
    if about_world:
        once = [not any(binder.kind.lives for binder in plane.compiled.binders) for plane in planes]
        tank_wide = [once[int(index)] for index in table.plane]
        keep = speaks(table) & ((table.world == 1) | ((table.world == 0) & tank_wide))
    found = [
        reason
        for _, reason in explained(
            table.rows(keep).tolist(), table, planes, sitting, level=level, placed=False
        )
        if not animal or not (set(reason.subjects) & {each.id for each in desk.tank.animals} - {animal})
    ]
    worst: dict[tuple[str, str, str], Reason] = {}
    for reason in sorted(found, key=reason_order):
        # one animal's limit stands for all that ask the same of the same water; what no animal bears
        # is no answer to what it wants, so where both are open both are told
        bearable = reason.level if reason.verdict is Verdict.UNDECIDED else ""
        worst.setdefault((reason.quantity or reason.rule, reason.verdict.value, bearable), reason)
    return numbered(worst.values(), mark="g")
