"""What a house line set is told wherever it goes, also in what is worked out of it."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from advisor.language.library import Library
from advisor.model.computed import RESTS_ON, behind
from advisor.model.vocabulary import Measure, Relation, Supplier
from advisor.reasoning.survey import Survey
from advisor.reasoning.survey_resolve import Resolver
from advisor.reasoning.survey_touched import touched, touched_spans
from tests.reasoning.survey_samples import (
    animal,
    fact,
    library,
    place_row,
    point,
    row,
    said,
    spot,
    survey,
    tank,
)

SWELLS = 'change mat swells most from 3 times to 1 times because "x"'
WIDTH = 'change mat growth mature width from 60 cm to 20 cm because "x"'
OUT = 'change mat growth out from 5 mm/month to 1 mm/month because "x"'
EDGE = 'change stinger edge from skeleton to open because "x"'
TALL = 'change stinger growth mature height from 20 cm to 5 cm because "x"'


def ruled(line: str) -> Library:
    """Return the sample rules with one house line."""
    return library(house=f"house\n  {line}\n")


def two(rules: Library, *, size_cm: float | None = 6.0, apart_cm: float = 40.0) -> Survey:
    """Return a mat and a stinger side by side."""
    spots = [spot("here", point(0.0, 0.0)), spot("there", point(apart_cm, 0.0, 20.0))]
    return survey(
        tank(spots, [animal("m-1", "mat", "here", size_cm), animal("s-1", at="there")]), rules=rules
    )


def house_grounds(of: Survey, name: str, month: float = 0.0, upside_down: bool = False) -> list[str]:
    """Return what of a value between the two stands in the house file."""
    rows = (row(of, "s-1"), row(of, "m-1")) if upside_down else (row(of, "m-1"), row(of, "s-1"))
    spans = touched_spans(of.library)
    return [support.source for support in touched([of.cell(name, rows, month, False)], spans)]


@pytest.mark.parametrize(
    ("line", "size_cm", "month", "told"),
    [
        (SWELLS, 6.0, 0.0, True),
        (EDGE, 6.0, 0.0, True),
        (WIDTH, None, 0.0, True),
        (WIDTH, 6.0, 0.0, False),
        (OUT, 6.0, 6.0, True),
        (OUT, 6.0, 0.0, False),
        (TALL, 6.0, 0.0, False),
    ],
)
def test_a_gap_tells_the_house_lines_it_rests_on_and_no_others(
    line: str, size_cm: float | None, month: float, told: bool
) -> None:
    found = house_grounds(two(ruled(line), size_cm=size_cm), "gap", month)
    assert bool(found) is told
    assert all("instead of" in source for source in found)


def test_heights_and_shade_tell_them_too() -> None:
    assert house_grounds(two(ruled(TALL)), "clear-height")
    assert house_grounds(two(ruled(SWELLS)), "above", upside_down=True)
    assert house_grounds(two(ruled(OUT)), "above", 6.0)
    assert not house_grounds(two(ruled(OUT)), "above")


def test_a_gap_with_a_tape_rests_on_no_card() -> None:
    told = [fact("gap", "m-1", "s-1", best=12.0, how="tape")]
    of = survey(tank((), [animal("m-1", "mat"), animal("s-1")], told), rules=ruled(SWELLS))
    assert house_grounds(of, "gap") == []


def test_without_house_lines_nothing_is_touched() -> None:
    assert touched_spans(library()) == frozenset()
    assert house_grounds(two(library()), "gap") == []


def test_a_place_animals_vouch_for_tells_what_was_changed_of_them() -> None:
    rules = library(
        'let vouch-after = 90 days\n  because "x"\n',
        'house\n  change mat light min from 40 PAR to 10 PAR because "y"\n'
        '  change vouch-after from 90 days to 30 days because "z"\n',
    )
    well = said(words=("well",), since=date(2026, 1, 1))
    told = [fact("doing", "m-1", **well.model_dump(exclude_unset=True))]
    one = animal("m-1", "mat", "here", placed_on=date(2025, 1, 1))
    of = survey(tank([spot("here")], [one], told), rules=rules)
    cell = of.cell("light", (place_row(of, "here"),))
    assert len(touched([cell], touched_spans(rules))) == 2


def test_the_kind_of_a_weapon_tells_who_set_it() -> None:
    rules = ruled('change plate weapon from filaments to sweeper-tentacles because "x"')
    of = survey(tank((), [animal("p-1", "plate")]), rules=rules)
    assert touched([of.cell("weapon-kind", (0,))], touched_spans(rules))


def test_nothing_worked_out_reads_a_card_line_that_is_not_declared(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever lets a computed measure rest on one more line of a card declares it in `RESTS_ON`."""
    asked: set[str] = set()
    one = Resolver.one

    def recorded(self: Resolver, measure: Measure, at: int) -> object:
        if Supplier.CARD in measure.suppliers:
            asked.add(measure.name)
        return one(self, measure, at)

    monkeypatch.setattr(Resolver, "one", recorded)
    words = library().vocabulary
    every: list[Measure | Relation] = [*words.measures.values(), *words.relations.values()]
    computed = [word for word in every if word.computed_by]
    assert {word.computed_by for word in computed} >= RESTS_ON.keys()
    for word in computed:
        of = two(library(), size_cm=None)
        asked.clear()
        rows = tuple(np.zeros(1, np.int64) for _ in word.params) or (np.zeros(1, np.int64),)
        if isinstance(word, Relation):
            of.truths(word.name, rows, np.ones(1))
        elif word.name in ("gap", "clear-height"):
            of.numbers(word.name, (rows[0], rows[1] + 1), np.ones(1), False)
        elif all(param.kind.value in ("animal", "place", "tank") for param in word.params):
            of.cell(word.name, (0,))
        # whom an assumption is meant for rests on the kind of animal, and decides no danger
        assert asked - {"group"} <= behind([word.name], words), word.name
