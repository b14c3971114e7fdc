"""Output of the lamps and factor of the meter, as a keeper tells them of a reading of light."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from advisor.errors import Span
from advisor.model.tank import Immersion
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.light_told import read_immersion, read_output
from advisor.tankfiles.nodes import Scalar
from tests.tankfiles.conftest import Folder

Make = Callable[[str], Folder]


def scalar(text: str) -> Scalar:
    return Scalar(text, Span("tank.yaml", 1, 1, 1, 2, text))


@pytest.mark.parametrize(
    ("text", "factor"),
    [("1.25", 1.25), ("1.25 x", 1.25), ("× 1.25", 1.25), ("1", 1.0), ("Corrected", 1.0), ("unknown", None)],
)
def test_a_factor_is_a_number_or_one_of_two_words(text: str, factor: float | None) -> None:
    ledger = Ledger()
    assert read_immersion(scalar(text), ledger) == Immersion(factor=factor)
    assert ledger.problems == ()


def test_a_blank_tells_neither() -> None:
    ledger = Ledger()
    assert (read_immersion(scalar(""), ledger), read_output(scalar(""), ledger)) == (None, None)
    assert read_output(scalar("unknown"), ledger) is None
    assert ledger.problems == ()


def test_an_output_of_a_half_without_per_cent_is_asked() -> None:
    ledger = Ledger()
    assert read_output(scalar("0.6"), ledger) is None
    (problem,) = ledger.problems
    assert (problem.code, problem.mend) == ("value-132", "60 %")
    assert read_output(scalar("0.6 %"), Ledger()) == 0.6


@pytest.mark.parametrize(
    ("text", "mend"),
    [
        ("0.8", "1.25"),  # what to divide by, for what to multiply by
        ("125 %", "unknown, or what the manual of this very sensor says"),
        ("125", "1.25"),
        ("2", "unknown, or what the manual of this very sensor says"),
        ("0", "unknown, or what the manual of this very sensor says"),
        ("-1", "unknown, or what the manual of this very sensor says"),
        ("about a quarter", "unknown, or what the manual of this very sensor says"),
        ("correct", "corrected"),
        ("unknwon", "unknown"),
    ],
)
def test_an_absurd_factor_is_noted_with_what_may_be_meant(text: str, mend: str) -> None:
    ledger = Ledger()
    assert read_immersion(scalar(text), ledger) is None
    (problem,) = ledger.problems
    assert (problem.code, problem.mend) == ("value-141", mend)


def test_a_factor_stands_beside_any_reading_of_light_and_of_nothing_else(tank_of: Make) -> None:
    told = "{value: 94 PAR, immersion factor: 1.25}"
    folder = tank_of(f"spots:\n  - {{id: a, light: {told}}}\n")
    assert [fact.said.immersion for fact in folder.said("light", "a")] == [Immersion(factor=1.25)]
    folder = tank_of(f"corals:\n  - {{id: t, is: torch, comes from: {{light: {told}}}}}\n")
    assert [fact.said.immersion for fact in folder.said("origin-light", "t")] == [Immersion(factor=1.25)]
    (problem,) = tank_of("spots:\n  - {id: a, flow: {value: 9 cm/s, immersion factor: 1.25}}\n").problems
    assert problem.code == "key-121"
    lamps_elsewhere = "{light: {value: 94 PAR, output: 60 %}}"
    (problem,) = tank_of(f"corals:\n  - {{id: t, is: torch, comes from: {lamps_elsewhere}}}\n").problems
    assert problem.code == "key-121"


def test_a_list_of_readings_and_a_table_tell_it_too(tank_of: Make) -> None:
    folder = tank_of("spots: [a, b]\nreadings:\n  - {spot: a, light: 94 PAR, immersion factor: 1.25}\n")
    folder.write("readings.csv", "spot,PAR,immersion factor\nb,94,corrected\n")
    assert [fact.said.immersion for fact in folder.said("light", "a")] == [Immersion(factor=1.25)]
    assert [fact.said.immersion for fact in folder.said("light", "b")] == [Immersion(factor=1.0)]
