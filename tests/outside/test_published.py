"""Every check of the cards against something outside: counted, and each with its source.

`data/checks.csv` lists them: what was published is a check for each source and quantity, a table of
one study once; trade practice and bookkeeping (contradictions that must stay listed) do not count, nor do
conversions of units.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

from tests.outside.published import DATA, Row, table

ENOUGH = 60
FOLDER = Path(__file__).resolve().parent
CHECKS = table("checks")
PUBLISHED = [row for row in CHECKS if row["kind"] == "published"]
ABOUT_CARDS = sorted({row["file"] for row in CHECKS} - {"test_handling"})
"""Files all of whose tests are listed."""


@cache
def text_of(name: str) -> str:
    return (FOLDER / f"{name}.py").read_text(encoding="utf-8")


@cache
def named_tests(name: str) -> set[str]:
    functions = (node for node in ast.walk(ast.parse(text_of(name))) if isinstance(node, ast.FunctionDef))
    return {function.name for function in functions if function.name.startswith("test_")}


@cache
def tables_text() -> str:
    files = (path for path in sorted(DATA.glob("*.csv")) if path.stem != "checks")
    return "\n".join(path.read_text(encoding="utf-8") for path in files)


def test_there_are_enough_published_checks_and_none_counts_twice() -> None:
    counted = [(row["source"], row["quantity"]) for row in PUBLISHED]
    assert len(set(counted)) == len(counted)
    assert len(counted) >= ENOUGH


@pytest.mark.parametrize("row", CHECKS, ids=lambda row: f"{row['test']} {row['source']}")
def test_each_listed_check_is_a_test(row: Row) -> None:
    assert row["kind"] in ("published", "trade", "bookkeeping")
    assert row["test"] in named_tests(row["file"])


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['source']}: {row['quantity']}")
def test_each_source_is_named_where_it_is_used(row: Row) -> None:
    used = text_of(row["file"]) + tables_text()
    flowing = " ".join(used.replace("#", " ").split())
    assert row["source"] in flowing


@pytest.mark.parametrize("name", ABOUT_CARDS)
def test_no_test_of_the_cards_is_left_out(name: str) -> None:
    assert named_tests(name) == {row["test"] for row in CHECKS if row["file"] == name}
