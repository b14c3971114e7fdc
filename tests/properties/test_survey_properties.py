"""What must hold of every survey, whatever the tank."""

from __future__ import annotations

from datetime import date
from itertools import pairwise, product

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.model.cells import NumberCell, SetCell, TruthCell, WordCell
from advisor.model.changes import Add, Change, Move, Remove, SetFact
from advisor.model.tank import ANYTHING, Animal, Box, Fact, Flow, Phase, Said, Spot, Statement, Tank
from advisor.model.vocabulary import Kind, Measure, NumberType, Relation, SetType
from advisor.reasoning.survey import Survey
from tests.reasoning.survey_samples import TODAY, animal, library, rows, same, survey, tank

SPOTS = ("s1", "s2", "s3", "s4")
ANIMALS = ("a-1", "b-1", "c-1", "d-1")
DAYS = st.one_of(st.none(), st.dates(date(2026, 1, 1), date(2026, 12, 31)))
CENTIMETRES = st.integers(0, 60).map(float)
FEW = settings(max_examples=40, deadline=None)
FEWER = settings(max_examples=10, deadline=None)
"""For what asks for every cell of a survey."""


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    low = [draw(CENTIMETRES) for _ in range(3)]
    by_word = draw(st.booleans())
    wide = [draw(st.integers(0, 30)) if by_word else 0 for _ in range(3)]
    axes = [(at, at + more) for at, more in zip(low, wide, strict=True)]
    return Box(x=axes[0], y=axes[1], z=axes[2], by_word=by_word)


@st.composite
def spots(draw: st.DrawFn, name: str) -> Spot:
    return Spot(
        id=name,
        box=draw(st.one_of(st.none(), boxes())),
        extent_cm=draw(st.one_of(st.none(), st.just(12.0))),
        holds=draw(st.sampled_from((1, 3))),
        rock=draw(st.sampled_from(("", "r1", "r2"))),
        nothing_else_within_cm=draw(st.sampled_from((None, 15.0, 40.0))),
        gaps_complete=draw(st.booleans()) and draw(st.booleans()),
        closed_on=draw(DAYS),
    )


@st.composite
def animals(draw: st.DrawFn, name: str) -> Animal:
    base = animal(
        name,
        draw(st.sampled_from(("stinger", "mat", "plate", "oddity"))),
        draw(st.sampled_from(("", *SPOTS))),
        draw(st.sampled_from((None, 4.0, 9.0))),
    )
    more = {
        "box": draw(st.one_of(st.none(), boxes())),
        "clone": draw(st.sampled_from(("", "mother"))),
        "placed_on": draw(DAYS),
        "moved_on": draw(DAYS),
        "nothing_else_within_cm": draw(st.sampled_from((None, 20.0))),
    }
    return base.model_copy(update=more)


def things() -> st.SearchStrategy[str]:
    return st.sampled_from((*SPOTS, *ANIMALS))


@st.composite
def facts(draw: st.DrawFn) -> Fact:
    on = draw(DAYS)
    one, other = draw(things()), draw(things())
    match draw(
        st.sampled_from(("gap", "height", "light", "word", "doing", "trimmed", "side", "none", "divider"))
    ):
        case "gap":
            return Fact(measure="gap", subjects=(one, other), said=Statement(best=draw(CENTIMETRES), on=on))
        case "height":
            return Fact(
                measure="clear-height", subjects=(one, other), said=Statement(best=draw(CENTIMETRES), on=on)
            )
        case "light":
            return Fact(measure="light", subjects=(one,), said=Statement(best=draw(CENTIMETRES) * 5.0, on=on))
        case "word":
            said = Statement(words=(draw(st.sampled_from(("low", "medium", "odd"))),), by=Said.SELLER, on=on)
            return Fact(measure=draw(st.sampled_from(("light", "flow"))), subjects=(one,), said=said)
        case "doing":
            words = (draw(st.sampled_from(("well", "badly"))),)
            return Fact(
                measure="doing",
                subjects=(draw(st.sampled_from(ANIMALS)),),
                said=Statement(words=words, on=on),
            )
        case "trimmed":
            return Fact(
                measure="kept-trimmed", subjects=(one,), said=Statement(truth=draw(st.booleans()), on=on)
            )
        case "side":
            name = draw(st.sampled_from(("down-flow", "up-flow", "above", "same-rock")))
            return Fact(measure=name, subjects=(one, other), said=Statement(truth=draw(st.booleans()), on=on))
        case "none":
            pair = draw(st.sampled_from(((ANYTHING, one), (one, ANYTHING))))
            name = draw(st.sampled_from(("down-flow", "up-flow", "above")))
            return Fact(measure=name, subjects=pair, said=Statement(none=True, on=on))
        case _:
            return Fact(measure="divider", subjects=(one, other), said=Statement(truth=True, on=on))


@st.composite
def tanks(draw: st.DrawFn) -> Tank:
    return tank(
        [draw(spots(name)) for name in SPOTS],
        [draw(animals(name)) for name in ANIMALS],
        [
            each
            for each in draw(st.lists(facts(), max_size=10))
            if len(set(each.subjects)) == len(each.subjects)
        ],
        flow=Flow(direction_deg=draw(st.one_of(st.none(), st.integers(0, 359).map(float)))),
    )


@st.composite
def changes(draw: st.DrawFn) -> Change:
    new = animal("n-1", draw(st.sampled_from(("stinger", "mat", "oddity"))), phase=Phase.WAITING)
    name = draw(st.sampled_from(ANIMALS))
    options: tuple[Change, ...] = (
        (),
        (Add(new, draw(st.sampled_from(SPOTS))),),
        (Remove(name), Add(new, draw(st.sampled_from(SPOTS)))),
        (Move(name, draw(st.sampled_from(SPOTS))),),
        (SetFact(Fact(measure="light", subjects=(draw(things()),), said=Statement(best=77.0))),),
        (SetFact(Fact(measure="gap", subjects=("a-1", "b-1"), said=Statement(best=7.0))),),
        (SetFact(Fact(measure="gap", subjects=("a-1", "b-1"), said=Statement())),),
        (SetFact(Fact(measure="light-max", subjects=(name,), said=Statement(best=7.0))),),
    )
    return draw(st.sampled_from(options))


def pairs(of: Survey) -> list[tuple[int, int]]:
    every = range(len(of.animals))
    return [(one, other) for one in every for other in every if one != other]


MONTHS = (0.0, 7.0)


@FEW
@given(tanks(), changes())
def test_a_gap_is_the_same_from_both_ends(base: Tank, change: Change) -> None:
    of = survey(base, [change])
    first, second = np.array(pairs(of)).T
    for months in MONTHS:
        for assume in (True, False):
            ahead = np.full(len(first), months)
            there = of.numbers("gap", (first, second), ahead, assume)
            back = of.numbers("gap", (second, first), ahead, assume)
            assert there.low.tolist() == back.low.tolist()
            assert there.high.tolist() == back.high.tolist()
            assert np.array_equal(there.best, back.best, equal_nan=True)
            assert there.flags.tolist() == back.flags.tolist()


@FEW
@given(tanks(), changes())
def test_growth_never_widens_a_gap(base: Tank, change: Change) -> None:
    of = survey(base, [change])
    first, second = np.array(pairs(of)).T
    found = [
        of.numbers("gap", (first, second), np.full(len(first), float(month)), True)
        for month in range(0, 25, 6)
    ]
    for now, later in pairwise(found):
        assert (later.low <= now.low).all()
        assert (later.high <= now.high).all()


@FEW
@given(tanks(), changes())
def test_every_number_is_a_range_within_what_is_possible(base: Tank, change: Change) -> None:
    of = survey(base, [change])
    measure = of.library.vocabulary.measures["gap"]
    first, second = np.array(pairs(of)).T
    for months in MONTHS:
        found = of.numbers("gap", (first, second), np.full(len(first), months), True)
        assert (measure.low <= found.low).all()
        assert (found.low <= found.high).all()
        assert (found.high <= measure.high).all()
        told = ~np.isnan(found.best)
        assert (found.low[told] <= found.best[told] + 1e-9).all()
        assert (found.best[told] <= found.high[told] + 1e-9).all()


@FEW
@given(tanks(), changes())
def test_a_guess_only_ever_narrows(base: Tank, change: Change) -> None:
    of = survey(base, [change])
    first, second = np.array(pairs(of)).T
    guessed, bare = (of.numbers("gap", (first, second), None, assume) for assume in (True, False))
    assert (bare.low <= guessed.low + 1e-9).all()
    assert (guessed.high <= bare.high + 1e-9).all()


@FEWER
@given(tanks(), changes())
def test_columns_and_cells_say_the_same(base: Tank, change: Change) -> None:
    of = survey(base, [change])
    for measure in of.library.vocabulary.measures.values():
        check_measure(of, measure)
    for relation in of.library.vocabulary.relations.values():
        check_relation(of, relation)


def tables(of: Survey, params: tuple[Kind, ...]) -> list[tuple[int, ...]]:
    found = list(product(*(range(rows_of(of, kind)) for kind in params)))
    twice = len(params) == 2 and params[0].lives and params[1].lives
    return [rows for rows in found if not (twice and rows[0] == rows[1])]


def rows_of(of: Survey, kind: Kind) -> int:
    if kind is Kind.TANK:
        return 1
    if kind.lives:
        return len(of.animals)
    return len(of.places) if kind is Kind.PLACE else len(of.listing(kind).world)


def check_measure(of: Survey, measure: Measure) -> None:
    where = tables(of, tuple(param.kind for param in measure.params))
    if not where:
        return  # no weapon, no lamp: nothing to ask
    columns = tuple(np.array(column) for column in zip(*where, strict=True))
    if isinstance(measure.type, NumberType):
        for months in MONTHS if measure.at_a_month else (0.0,):
            for assume in (True, False):
                found = of.numbers(measure.name, columns, np.full(len(where), months), assume)
                for at, each in enumerate(where):
                    cell = of.cell(measure.name, each, months, assume)
                    assert isinstance(cell, NumberCell)
                    assert same(found, at, cell), (measure.name, each, months, assume)
                    assert bool(found.flags[at]) is (cell.cause is not None)
                    assert cell.supports
    elif isinstance(measure.type, SetType):
        sets = of.sets(measure.name, columns)
        for at, each in enumerate(where):
            cell = of.cell(measure.name, each)
            assert isinstance(cell, SetCell)
            assert {
                word for word, sure in zip(sets.domain, sets.surely[at], strict=True) if sure
            } == cell.surely
    else:
        words = of.words(measure.name, columns)
        for at, each in enumerate(where):
            cell = of.cell(measure.name, each)
            assert isinstance(cell, WordCell)
            possible = {word for word, may in zip(words.domain, words.possible[at], strict=True) if may}
            assert possible == (set(words.domain) if cell.possible is None else cell.possible)


def check_relation(of: Survey, relation: Relation) -> None:
    where = tables(of, tuple(param.kind for param in relation.params))
    if not where:
        return
    columns = tuple(np.array(column) for column in zip(*where, strict=True))
    for months in MONTHS:
        found = of.truths(relation.name, columns, np.full(len(where), months))
        assert not (found.yes & found.no).any()
        for at, each in enumerate(where):
            cell = of.cell(relation.name, each, months)
            assert isinstance(cell, TruthCell)
            assert cell.value is (True if found.yes[at] else (False if found.no[at] else None))
            assert cell.supports


@FEW
@given(tanks(), st.randoms(use_true_random=False))
def test_the_order_of_animals_spots_and_facts_changes_no_cell(base: Tank, chance: st.DataObject) -> None:
    turned = base.model_copy(
        update={name: shuffled(getattr(base, name), chance) for name in ("animals", "spots", "facts")}
    )
    one, other = survey(base), survey(turned)
    for pair in pairs(one):
        for name in ("gap", "clear-height", "down-flow", "up-flow", "above", "same-rock", "divider"):
            assert one.cell(name, pair, 7.0) == other.cell(name, pair, 7.0)
    for at in range(len(one.places)):
        for name in ("light", "flow"):
            assert one.cell(name, (at,)) == other.cell(name, (at,))
    assert one.notes == other.notes


def shuffled(items: tuple[object, ...], chance: object) -> tuple[object, ...]:
    mixed = list(items)
    chance.shuffle(mixed)  # type: ignore[attr-defined]  # a random.Random of hypothesis
    return tuple(mixed)


@FEW
@given(tanks(), st.sampled_from(SPOTS), st.sampled_from(("stinger", "mat", "oddity")))
def test_a_coral_put_somewhere_by_a_change_is_as_far_from_all_as_one_that_stands_there(
    base: Tank, where: str, taxon: str
) -> None:
    open_ = base.model_copy(
        update={
            "spots": tuple(each.model_copy(update=NOTHING_CLOSED) for each in base.spots),
            "animals": tuple(each.model_copy(update=NOTHING_CLOSED) for each in base.animals),
        }
    )
    new = animal("n-1", taxon, phase=Phase.WAITING)
    placed = new.model_copy(update={"phase": Phase.PLACED, "spot": where})
    known = {"n-1": (taxon,)}
    laid = survey(open_, [(Add(new, where),)], names=known)
    real = survey(open_.model_copy(update={"animals": (*open_.animals, placed)}), names=known)
    for name in ANIMALS:
        there = laid.cell("gap", (laid.animal_row("n-1", 1), laid.animal_row(name, 1)), 7.0)
        here = real.cell("gap", (real.animal_row("n-1"), real.animal_row(name)), 7.0)
        assert there == here


NOTHING_CLOSED = {"nothing_else_within_cm": None, "gaps_complete": False}


@FEW
@given(tanks(), changes())
def test_pairs_left_out_are_surely_too_far_apart(base: Tank, change: Change) -> None:
    of = survey(base, [change])
    for world in (0, 1):
        standing = of.rows_in(world)
        first, second = of.pair_rows(20.0, 7.0, standing)
        kept = set(zip(first.tolist(), second.tolist(), strict=True))
        for one in standing.tolist():
            for other in standing.tolist():
                if one != other and (one, other) not in kept:
                    gap = of.numbers("gap", (rows(one), rows(other)), np.array([7.0]), False)
                    assert gap.low[0] > 20.0


def test_the_samples_hold_what_the_properties_need() -> None:
    assert TODAY > date(2026, 1, 1)
    assert {"gap", "clear-height", "light", "flow"} <= set(library().vocabulary.measures)
