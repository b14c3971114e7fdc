"""The joined library."""

from __future__ import annotations

import dataclasses

import pytest

from advisor.language.library import Library
from advisor.model.vocabulary import Vocabulary
from tests.language.texts import base_library


def test_an_empty_library_has_nothing() -> None:
    library = Library(Vocabulary())
    assert (library.rules, library.cards, library.house, library.words) == ({}, {}, (), ())


def test_a_library_is_not_changed_in_place() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        base_library().rules = {}  # type: ignore[misc]  # that it is frozen is what is tested


def test_names_lead_to_what_bears_them() -> None:
    assert all(name == rule.name for name, rule in base_library().rules.items())
    assert all(name == card.name for name, card in base_library().cards.items())
