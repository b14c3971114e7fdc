"""Every module has its test file, and no test file outlives its module."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "advisor"
TESTS = ROOT / "tests"

# Modules without a test file of their own, and why.
EXCUSED: dict[str, str] = {
    "language/nodes.py": "declares the tree and does nothing; every test of the language builds it",
    "reasoning/light_values.py": "declares what light is; the tests of light_odd.py test how it spans",
    "language/library.py": "declares what a set of rule files holds and does nothing",
    "__init__.py": "re-exports only; tests/test_public_api.py pins them",
    "__main__.py": "two lines; tests/test_wheel.py and tests/test_readme.py run the program",
}

# Layers whose test folder also holds tests of the whole layer.
FREE_FOLDERS = ("behaviour", "rules", "outside", "properties", "benchmarks")


def modules() -> list[Path]:
    """Return every module that has to have a test, relative to the package."""
    found = []
    for file in sorted(PACKAGE.rglob("*.py")):
        relative = file.relative_to(PACKAGE)
        plain_init = file.name == "__init__.py" and not defines_something(file)
        if not plain_init and relative.as_posix() not in EXCUSED:
            found.append(relative)
    return found


def defines_something(file: Path) -> bool:
    """Return whether a package file does more than re-export."""
    lines = file.read_text(encoding="utf-8").splitlines()
    return any(line.startswith(("def ", "class ", "async def ")) for line in lines)


def home_of_test(module: Path) -> Path:
    """Return where the test of a module stands."""
    name = module.parent.name if module.name == "__init__.py" else module.stem
    return TESTS / module.parent / f"test_{name}.py"


def test_every_module_has_its_test_file() -> None:
    missing = [
        f"advisor/{module} needs {home_of_test(module).relative_to(ROOT)}"
        for module in modules()
        if not home_of_test(module).is_file()
    ]
    assert missing == []


def test_every_test_file_tests_something() -> None:
    files = sorted(TESTS.rglob("test_*.py"))
    empty = [
        str(file.relative_to(ROOT))
        for file in files
        if "def test_" not in file.read_text(encoding="utf-8")
        and "scenarios(" not in file.read_text(encoding="utf-8")
    ]
    assert files
    assert empty == []


def test_every_test_folder_belongs_to_a_layer() -> None:
    layers = {path.name for path in PACKAGE.iterdir() if path.is_dir()}
    folders = {path.name for path in TESTS.iterdir() if path.is_dir() and not path.name.startswith("_")}
    assert folders <= layers | set(FREE_FOLDERS)
