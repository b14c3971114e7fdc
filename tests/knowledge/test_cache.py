"""Kept rule files: same library, less work, and no harm when they are damaged."""

from __future__ import annotations

import json
import stat
from dataclasses import replace
from pathlib import Path

import pytest

import advisor.language.parse
from advisor.knowledge.cache import Cache
from advisor.language.library import Library
from advisor.language.nodes import RuleFile
from tests.knowledge.test_load import HOUSE, TINY

TEXTS = tuple(TINY.items())
FAULTY = (*TEXTS, ("bad.rules", "edition 1\n\nlet broken 5 cm\n"))


@pytest.fixture
def parsed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the files that were parsed since the test began."""
    names: list[str] = []
    real = advisor.language.parse.parse_file

    def counting(name: str, text: str) -> tuple[RuleFile, tuple[object, ...]]:
        names.append(name)
        return real(name, text)

    monkeypatch.setattr(advisor.language.parse, "parse_file", counting)
    return names


def load(folder: Path | None, texts: tuple[tuple[str, str], ...] = TEXTS) -> Library:
    library, problems = Cache(folder).library(texts, ())
    assert problems == ()
    return library


def test_what_is_kept_is_the_same_library(tmp_path: Path) -> None:
    fresh = load(None)
    first = load(tmp_path)
    second = load(tmp_path)
    assert fresh == first == second
    assert second.cards["odd"].values[0].span == fresh.cards["odd"].values[0].span


def test_a_second_start_parses_nothing(tmp_path: Path, parsed: list[str]) -> None:
    load(tmp_path)
    assert sorted(parsed) == sorted(TINY)
    parsed.clear()
    load(tmp_path)
    assert parsed == []


def test_a_changed_file_alone_is_parsed_again(tmp_path: Path, parsed: list[str]) -> None:
    load(tmp_path)
    parsed.clear()
    changed = TINY | {"corals/odd.rules": TINY["corals/odd.rules"].replace("50 PAR", "55 PAR")}
    library = load(tmp_path, tuple(changed.items()))
    assert parsed == ["corals/odd.rules"]
    assert [value.number for value in library.cards["odd"].values if value.key == "light-min"] == [55.0]


def test_a_house_file_is_part_of_the_key(tmp_path: Path) -> None:
    load(tmp_path)
    library, problems = Cache(tmp_path).library(TEXTS, (("house.rules", HOUSE),))
    assert problems == ()
    assert [value.number for value in library.cards["odd"].values if value.key == "light-min"] == [60.0]
    assert [value.number for value in load(tmp_path).cards["odd"].values if value.key == "light-min"] == [
        50.0
    ]


def test_a_shipped_file_and_a_house_file_of_one_name_are_not_mixed_up(tmp_path: Path) -> None:
    as_house = Cache(tmp_path).library(TEXTS[:1], TEXTS[1:])[0]
    assert as_house.own_cards == ("odd",)
    assert load(tmp_path) == replace(as_house, own_cards=())
    assert len(list(tmp_path.glob("checked-*.json"))) == 2


def test_problems_are_told_every_time(tmp_path: Path) -> None:
    first = Cache(tmp_path).library(FAULTY, ())[1]
    second = Cache(tmp_path).library(FAULTY, ())[1]
    assert first
    assert first == second
    assert list(tmp_path.glob("checked-*.json")) == []


@pytest.mark.parametrize(
    "junk", ["", "{", "null", "[]", "[[],[],[],[],[]]", "[1,2,3,4,5]", '{"a": 1}', "[" * 100_000]
)
def test_a_damaged_cache_is_passed_over(tmp_path: Path, junk: str) -> None:
    fresh = load(tmp_path)
    for path in tmp_path.iterdir():
        path.write_text(junk)
    assert load(tmp_path) == fresh


def test_a_damaged_tree_of_one_file_is_read_anew(tmp_path: Path, parsed: list[str]) -> None:
    fresh = load(tmp_path)
    for path in tmp_path.glob("checked-*.json"):
        path.unlink()
    kept = json.loads((tmp_path / "parsed.json").read_text(encoding="utf-8"))
    kept[next(iter(kept))] = "[[], [], [], [], 7]"
    (tmp_path / "parsed.json").write_text(json.dumps(kept), encoding="utf-8")
    parsed.clear()
    assert load(tmp_path) == fresh
    assert len(parsed) == 1


def test_a_place_that_cannot_be_written_changes_nothing(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    assert load(in_the_way / "cache") == load(None)


def test_what_is_kept_is_plain_json_readable_by_its_owner_only(tmp_path: Path) -> None:
    load(tmp_path)
    names = sorted(path.name for path in tmp_path.iterdir())
    assert len(names) == 2
    assert names[1] == "parsed.json"
    for path in tmp_path.iterdir():
        assert json.loads(path.read_text(encoding="utf-8"))
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0


def test_only_the_newest_sets_are_kept(tmp_path: Path) -> None:
    for number in range(10):
        changed = TINY | {
            "corals/odd.rules": TINY["corals/odd.rules"].replace("50 PAR", f"{50 + number} PAR")
        }
        load(tmp_path, tuple(changed.items()))
    assert len(list(tmp_path.glob("checked-*.json"))) == 6


def test_the_names_that_may_be_computed_are_part_of_the_key(tmp_path: Path) -> None:
    Cache(tmp_path).library(TEXTS, (), frozenset({"gap"}))
    Cache(tmp_path).library(TEXTS, (), frozenset({"gap", "above"}))
    assert len(list(tmp_path.glob("checked-*.json"))) == 2
