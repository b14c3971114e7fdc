"""The wheel alone, installed elsewhere, answers a question."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

pytestmark = pytest.mark.slow


def run(*command: str, cwd: Path, codes: tuple[int, ...] = (0,)) -> str:
    """Run one command away from the source tree and return what it printed."""
    env = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "VIRTUAL_ENV")}
    done = subprocess.run(command, cwd=cwd, env=env, capture_output=True, text=True, check=False)
    assert done.returncode in codes, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel out of a copy, so that the tree stays as it is."""
    source = tmp_path_factory.mktemp("source") / "tree"
    leave = shutil.ignore_patterns(".*", "__pycache__", "dist", "build", "venv", "tests")
    shutil.copytree(ROOT, source, ignore=leave)
    run(sys.executable, "-m", "build", "--wheel", "--outdir", "out", ".", cwd=source)
    (built,) = (source / "out").glob("*.whl")
    return built


@pytest.fixture(scope="module")
def python(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the wheel into an environment of its own."""
    home = tmp_path_factory.mktemp("home") / "venv"
    venv.create(home, with_pip=True)
    python = home / ("Scripts" if os.name == "nt" else "bin") / "python"
    run(str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", str(wheel), cwd=home)
    return python


def test_the_wheel_carries_rules_types_and_the_grammar(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    shipped = {
        f"advisor/_rules/{path.relative_to(ROOT / 'rules').as_posix()}"
        for path in (ROOT / "rules").rglob("*.rules")
    }
    assert len(shipped) > 100
    assert shipped <= names
    assert "advisor/py.typed" in names
    assert "advisor/language/grammar.lark" in names
    assert not {name for name in names if name.startswith(("tests/", "examples/", "features/"))}


def test_the_installed_program_answers_from_another_folder(python: Path, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "examples" / "first-shelf", tmp_path / "my tank")
    program = str(python.with_name("advisor"))
    words = ("where", "torch-1", "--tank", "my tank", "--on", "2026-11-02")
    printed = run(program, *words, cwd=tmp_path, codes=(0, 1))
    here = run(sys.executable, "-m", "advisor", *words, cwd=tmp_path, codes=(0, 1))
    assert printed == here
    answer = json.loads(run(program, *words, "--json", cwd=tmp_path, codes=(0, 1)))
    assert answer["coral"]["id"] == "torch-1"


def test_what_is_installed_is_typed_and_needs_no_test_package(python: Path, tmp_path: Path) -> None:
    inside = run(
        str(python),
        "-c",
        "import advisor, pathlib; print(pathlib.Path(advisor.__file__).parent)",
        cwd=tmp_path,
    ).strip()
    assert (Path(inside) / "py.typed").is_file()
    assert not str(inside).startswith(str(ROOT))
    installed = run(
        str(python), "-m", "pip", "list", "--format", "freeze", "--disable-pip-version-check", cwd=tmp_path
    ).lower()
    assert "pytest" not in installed
