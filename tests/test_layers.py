"""Every import points down the layer table, and every package has one home."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "advisor"

# Highest first. Layers on one line are siblings and never import each other.
TABLE: tuple[tuple[str, ...], ...] = (
    ("__main__",),
    ("cli",),
    ("__init__",),
    ("api",),
    ("editors",),
    ("rulework",),
    ("session",),
    ("planning", "reports"),
    ("reasoning",),
    ("knowledge", "tankfiles"),
    ("language", "fields"),
    ("model",),
    ("units",),
    ("errors",),
)
HEIGHT = {layer: len(TABLE) - row for row, layers in enumerate(TABLE) for layer in layers}

# Where each third-party package may be imported.
HOMES: dict[str, frozenset[str]] = {
    "pydantic": frozenset({"model"}),
    "lark": frozenset({"language"}),
    "ruamel": frozenset({"tankfiles"}),
    "filelock": frozenset({"tankfiles"}),
    "networkx": frozenset({"reasoning", "planning"}),
    "pygls": frozenset({"editors"}),
    "lsprotocol": frozenset({"editors"}),
    "pygments": frozenset({"editors"}),
    "markdown_it": frozenset({"reports"}),
    "jerlov": frozenset({"fields"}),
    "trimesh": frozenset({"fields"}),
    "rich": frozenset({"reports", "cli"}),
    "numpy": frozenset({"fields", "reasoning", "planning", "rulework"}),
    "rapidfuzz": frozenset({"language", "knowledge", "tankfiles"}),
    "platformdirs": frozenset({"language", "knowledge", "tankfiles", "session", "cli"}),
}

# Reading or writing files, the network, clocks and chance below `knowledge | tankfiles`.
OUTSIDE_WORLD = frozenset(
    {
        "io",
        "os",
        "pathlib",
        "shutil",
        "socket",
        "subprocess",
        "tempfile",
        "time",
        "random",
        "secrets",
        "urllib",
        "http",
    }
)
PURE_LAYERS = frozenset({"language", "fields", "model", "units", "errors"})
NEVER = frozenset({"pickle", "marshal", "shelve", "random"})


@dataclass(frozen=True, slots=True)
class Import:
    """One import statement: where it stands and what it names."""

    file: Path
    line: int
    module: str
    relative: bool

    @property
    def layer(self) -> str:
        """Layer of the file the statement stands in."""
        return layer_of(self.file)

    def __str__(self) -> str:
        """Return place and target, ready for a failure message."""
        return f"{self.file.relative_to(PACKAGE.parent)}:{self.line} imports {self.module}"


def layer_of(file: Path) -> str:
    """Return the layer a file of the package belongs to."""
    first = file.relative_to(PACKAGE).parts[0]
    return first.removesuffix(".py")


def imports_of(file: Path) -> Iterator[Import]:
    """Yield every import of one file, those inside functions included."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield Import(file, node.lineno, alias.name, relative=False)
        elif isinstance(node, ast.ImportFrom):
            module = node.module or ""
            if module == "advisor":  # from advisor import units
                for alias in node.names:
                    yield Import(file, node.lineno, f"advisor.{alias.name}", node.level > 0)
            else:
                yield Import(file, node.lineno, module, node.level > 0)


FILES = sorted(PACKAGE.rglob("*.py"))
ALL = [found for file in FILES for found in imports_of(file)]


def target_layer(found: Import) -> str | None:
    """Return the layer of our own that an import reaches into, if it is one of ours."""
    parts = found.module.split(".")
    if parts[0] != "advisor":
        return None
    return parts[1] if len(parts) > 1 and parts[1] in HEIGHT else "__init__"


def may_import(layer: str, target: str) -> bool:
    """Return whether `layer` may import from `target`."""
    return target == layer or HEIGHT[target] < HEIGHT[layer]


def test_the_walk_sees_the_whole_package() -> None:
    assert len(FILES) > 30
    assert {layer_of(file) for file in FILES} <= set(HEIGHT)


def test_no_import_is_relative() -> None:
    assert [str(found) for found in ALL if found.relative] == []


def test_imports_point_down_and_siblings_keep_apart() -> None:
    wrong = [
        str(found)
        for found in ALL
        if (target := target_layer(found)) is not None and not may_import(found.layer, target)
    ]
    assert wrong == []


@pytest.mark.parametrize("package", sorted(HOMES))
def test_a_package_is_used_only_in_its_home(package: str) -> None:
    strays = [
        str(found)
        for found in ALL
        if found.module.split(".")[0] == package and found.layer not in HOMES[package]
    ]
    assert strays == []


def test_nothing_below_the_files_layer_reads_or_writes() -> None:
    strays = [
        str(found)
        for found in ALL
        if found.layer in PURE_LAYERS and found.module.split(".")[0] in OUTSIDE_WORLD
    ]
    assert strays == []


def test_no_code_travels_as_data_and_nothing_is_left_to_chance() -> None:
    assert [str(found) for found in ALL if found.module.split(".")[0] in NEVER] == []


def clock_calls(file: Path) -> Iterator[str]:
    """Yield the places of one file where the clock is asked."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        match node:
            case ast.Call(
                func=ast.Attribute(value=ast.Name(id=("date" | "datetime" | "time") as of), attr=call)
            ):
                if call in {"today", "now", "utcnow", "time", "monotonic"}:
                    yield f"{file.relative_to(PACKAGE.parent)}:{node.lineno} asks {of}.{call}()"


def test_only_the_command_line_asks_the_clock() -> None:
    asked = [place for file in FILES if layer_of(file) != "cli" for place in clock_calls(file)]
    assert asked == []


def test_a_wrong_direction_would_be_seen(tmp_path: Path) -> None:
    sample = PACKAGE / "model" / "sample.py"
    tree = "from advisor.reports import text\nimport advisor.language.nodes\n"
    (tmp_path / "sample.py").write_text(tree, encoding="utf-8")
    found = [
        Import(sample, each.line, each.module, each.relative) for each in imports_of(tmp_path / "sample.py")
    ]
    assert [may_import(each.layer, target_layer(each) or "") for each in found] == [False, False]
