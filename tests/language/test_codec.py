"""Trees and libraries as plain data and back."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass

import pytest
from hypothesis import HealthCheck, given, settings

from advisor.errors import Span
from advisor.language.check import check
from advisor.language.codec import CODEC_VERSION, from_data, library_from_data, library_to_data, to_data
from advisor.language.nodes import RuleFile
from tests.language.texts import base, checked, shipped_files, shipped_trees
from tests.language.trees import files


def through_json(data: object) -> object:
    """Data as it comes back from a file."""
    return json.loads(json.dumps(data))


def spans(tree: object) -> list[Span]:
    """Every span of a tree."""
    if isinstance(tree, Span):
        return [tree]
    if isinstance(tree, tuple):
        return [span for item in tree for span in spans(item)]
    if is_dataclass(tree):
        return [span for part in fields(tree) for span in spans(getattr(tree, part.name))]
    return []


@pytest.mark.parametrize(
    "index", range(0, len(shipped_files()), 5), ids=lambda index: shipped_files()[index][0]
)
def test_a_shipped_file_comes_back_the_same(index: int) -> None:
    tree = shipped_trees()[index]
    again = from_data(through_json(to_data(tree)))
    assert again == tree
    assert spans(again) == spans(tree)


@given(files)
@settings(suppress_health_check=[HealthCheck.too_slow])
def test_any_tree_comes_back_the_same(tree: RuleFile) -> None:
    assert from_data(through_json(to_data(tree))) == tree


def test_a_library_comes_back_the_same() -> None:
    library, _ = check(shipped_trees())
    again = library_from_data(through_json(library_to_data(library)))
    assert again == library
    assert list(again.rules) == list(library.rules)


def test_house_edits_and_infinite_ranges_come_back() -> None:
    library, problems = checked(
        "measure odd(animal a) one of x, y from keeper\n"
        'house\n  change low-light from 50 PAR to 60 PAR because "b"'
    )
    assert problems == ()
    again = library_from_data(through_json(library_to_data(library)))
    assert again.vocabulary.measures["odd"].high == float("inf")
    assert again.house == library.house
    assert len(again.house) == 1


@pytest.mark.parametrize("data", [None, [], {}, "x", [1, 2, 3]])
def test_other_data_is_refused(data: object) -> None:
    with pytest.raises(ValueError, match="not a kept tree"):
        from_data(data)


def test_two_trees_are_read_independently() -> None:
    first, second = to_data(base()), to_data(shipped_trees()[0])
    assert from_data(through_json(first)) == base()
    assert from_data(through_json(second)) == shipped_trees()[0]
    assert from_data(through_json(first)) == base()


def test_the_version_is_a_mark_of_the_code() -> None:
    assert len(CODEC_VERSION) == 16
