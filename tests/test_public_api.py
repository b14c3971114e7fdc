"""The public names: few, documented, and only changed on purpose."""

from __future__ import annotations

import ast
import inspect
from pathlib import Path

import advisor

EXPECTED = (
    "AdvisorError",
    "Problem",
    "Session",
    "add_coral",
    "add_reading",
    "add_spot",
    "card",
    "check_rules",
    "handle",
    "move",
    "new_tank",
    "open_tank",
    "run_examples",
    "schema",
)


def test_all_is_pinned() -> None:
    assert tuple(sorted(advisor.__all__)) == EXPECTED


def test_every_public_name_exists_and_is_documented() -> None:
    for name in advisor.__all__:
        thing = getattr(advisor, name)
        assert inspect.getdoc(thing), f"advisor.{name} has no docstring"


def test_the_package_file_only_re_exports() -> None:
    tree = ast.parse(Path(advisor.__file__).read_text(encoding="utf-8"))
    allowed = (ast.Import, ast.ImportFrom, ast.Assign, ast.AnnAssign, ast.Expr)
    assert [type(node).__name__ for node in tree.body if not isinstance(node, allowed)] == []
