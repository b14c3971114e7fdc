"""Samples of what knowledge rests on, as the reports get it."""

from __future__ import annotations

from advisor.model.statistics import GradeCount, LineTrust, StatsAnswer, ValueTrust


def grade(name: str, values: int) -> GradeCount:
    """Return the counts of one grade, all but the first the same."""
    return GradeCount(grade=name, values=values, numbers=3, cards=2, rules=1, preferences=0, named_numbers=4,
                      loose_words=5, assumptions=0)  # fmt: skip


def stats() -> StatsAnswer:
    """Return the counts of a small library and one tank."""
    reach = ValueTrust(name="torch: weapon at most", text="25 cm", grade="guess", source="memory",
                       file="torch.rules", line=4, dangers=3, weight=12)  # fmt: skip
    return StatsAnswer(
        cards=2,
        values=40,
        rules=3,
        grades=tuple(grade(name, 10) for name in ("study", "maker", "experience", "guess")),
        weights={"guess": 4, "experience": 3, "maker": 2, "study": 1},
        lines=(
            LineTrust(line="weapon at most", values=2, memory=1, dangers=5, weight=17.5),
            LineTrust(line="swells most", values=2, memory=2, dangers=0, weight=0),
        ),
        trust_least=(reach,) * 20,
        tanks=("lagoon",),
        tank_dangers=9,
        never_decided=(),
        by_eye=("shut-by-day",),
    )
