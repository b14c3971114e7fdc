"""How well the shipped cards agree with published tables: ``python -m tests.outside.figures`` prints it.

Nothing here is a bound; `test_figures.py` holds the figures a change may not make worse unnoticed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median, quantiles

from tests.outside import test_aggression as fights
from tests.outside.published import cards, first, genus_of, known
from tests.outside.test_growth import PLANNED, TOLERANCE, measured, planned_mm_per_year

_FIELD = re.compile(r"in the field it grows ([\d.]+) mm a month")


@dataclass(frozen=True)
class Figure:
    """How many of how many agree."""

    study: str
    what: str
    agree: int
    of: int

    @property
    def percent(self) -> float:
        """Share that agrees. [%]"""
        return 100 * self.agree / self.of


def figures() -> tuple[Figure, ...]:
    """Return every figure of agreement, aggression first."""
    return (*_contests(), *_orders(), *_growth())


def _contests() -> Iterator[Figure]:
    for study in fights.STUDIES:
        rows = [row for row in fights.CONTESTS if row["study"] == study]
        pairs = [fights.pair(row) for row in rows]
        yield Figure(
            study,
            "winners that can hurt the loser",
            sum(fights.can_hurt(*each) for each in pairs),
            len(pairs),
        )
        uneven = [fights.edge(*each) for each in pairs if fights.edge(*each)]
        yield Figure(
            study, "winners that hit harder, of uneven pairs", sum(edge > 0 for edge in uneven), len(uneven)
        )


def _orders() -> Iterator[Figure]:
    counted = [
        ("Sheppard 1979", fights.orders, 0.5),
        ("Abelson & Loya 1999", fights.orders, 0.5),
        ("Abelson & Loya 1999", fights.orders, 1.0),
        ("Dai 1990", fights.classes, 0.35),
        ("Lang 1973", fights.classes, 0.15),
        ("Logan 1984", fights.classes, 0.35),
    ]
    for study, order, apart in counted:
        alike, against, _ = order(study, apart)
        what = f"pairs of species ranked alike, {apart:g} of the study's scale apart"
        yield Figure(study, what, alike, alike + against)


def _growth() -> Iterator[Figure]:
    study = "CTDB 1.1.1 and NOAA"
    inside = [_in_middle_half(card, planned_mm_per_year(card)) for card in PLANNED]
    yield Figure(study, "planned growth within the middle half of the genus", sum(inside), len(inside))
    upward = [_in_middle_half(card, 12 * first(card, "growth-up")) for card in PLANNED]
    yield Figure(study, "planned growth upward within the middle half", sum(upward), len(upward))
    told = [(card, rate) for card in PLANNED for rate in field_mm_per_year(card)]
    field = [_in_middle_half(card, rate) for card, rate in told]
    yield Figure(study, "field rate told on the card within the middle half", sum(field), len(field))
    near = [
        1 / TOLERANCE <= planned_mm_per_year(card) / median(measured()[genus_of(card)]) <= TOLERANCE
        for card in PLANNED
    ]
    yield Figure(study, "planned growth within three times the median", sum(near), len(near))


def _in_middle_half(card: str, mm_per_year: float) -> bool:
    low, _, high = quantiles(measured()[genus_of(card)], n=4, method="inclusive")
    return low <= mm_per_year <= high


def field_mm_per_year(card: str) -> list[float]:
    """Return the field rates a card tells in its notes. [mm/year]"""
    texts = (value.text for value in cards()[card].values if value.text)
    return [12 * float(found) for text in texts for found in _FIELD.findall(text)]


def main() -> None:
    """Print the figures, and every contradiction with its reason."""
    for each in figures():
        print(f"{each.study:24} {each.percent:5.0f} %  {each.agree:4} of {each.of:4}  {each.what}")
    for check in ("contest", "edge", "sheppard", "eilat", "dai-class", "lang", "growth", "reach"):
        for (stronger, weaker), reason in known(check).items():
            print(f"{check}: {stronger} {weaker}: {reason}")


if __name__ == "__main__":
    main()
