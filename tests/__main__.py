"""``python -m tests``: format, lint, types and every test; the only command to learn.

Arguments go to pytest: ``python -m tests tests/language -k parse``. All four
checks run even when an early one fails, so that one run shows everything.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TREES = ("advisor", "tests")

CHECKS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("format", ("ruff", "format", "--check", *TREES)),
    ("lint", ("ruff", "check", *TREES)),
    ("types", ("mypy",)),
    ("tests", ("pytest", "-n", "auto", "--dist", "worksteal", "-q")),
)


def run(name: str, module: tuple[str, ...], extra: list[str]) -> bool:
    """Run one check with this interpreter and say how it went."""
    print(f"== {name}", flush=True)
    started = time.monotonic()
    done = subprocess.run([sys.executable, "-m", *module, *extra], cwd=ROOT, check=False)
    print(
        f"== {name}: {'fine' if done.returncode == 0 else 'FAILED'} after {time.monotonic() - started:.0f} s",
        flush=True,
    )
    return done.returncode == 0


def main(arguments: list[str]) -> int:
    """Run all checks; return 0 only if every one passed."""
    results = [run(name, module, arguments if name == "tests" else []) for name, module in CHECKS]
    return 0 if all(results) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
