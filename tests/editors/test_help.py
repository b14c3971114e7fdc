"""What is told of a name."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.editors.help import entries, explained
from advisor.language.library import Library
from advisor.session.opening import library_in_force, usable


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The shipped rules with one number changed by a house file."""
    house: Path = tmp_path_factory.mktemp("tank") / "house.rules"
    house.write_text(
        'edition 1\n\nhouse\n  change room-allowance from 2 cm to 4 cm\n    because "mine swell"\n',
        encoding="utf-8",
    )
    return usable(*library_in_force(None, (house,)))


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("light", ("in PAR, 0 to 2500, step 5", "Read the meter", "from keeper", "measures.rules:")),
        ("room-allowance", ("4 cm", "changed by the house at", "mine swell")),
        ("divider", ("no unless told",)),
        ("can-hurt", ("of animal a, animal b, a truth", "spacing.rules:")),
        ("keep-clear-of-stingers", ("danger", "source: ")),
        ("torch", ("torch coral", "corals/")),
        ("temperature", ("in °C, ", "step 0.5")),
    ],
)
def test_unit_value_in_force_and_where_it_comes_from(
    library: Library, name: str, told: tuple[str, ...]
) -> None:
    text = "\n".join(explained(entry, library) for entry in entries(library)[name])
    assert [part for part in told if part not in text] == [], text


def test_every_name_can_be_explained(library: Library) -> None:
    for found in entries(library).values():
        for entry in found:
            assert entry.name in explained(entry, library)
            assert entry.span.file
