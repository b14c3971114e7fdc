"""Pages written to a folder, each whole: those of earlier runs go, and anybody else's files stay."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from advisor.errors import Problem, unusable

MANIFEST = ".rule-pages.json"
"""Holds which pages were written to a folder, and how each read."""


@dataclass(frozen=True, slots=True)
class Published:
    """What became of a folder, each file by its path in it."""

    written: tuple[str, ...]
    removed: tuple[str, ...]
    kept: tuple[str, ...]
    """Old pages that somebody has changed since they were written: these stay."""


def publish(folder: Path, texts: Mapping[str, str], *, everything: bool) -> Published:
    """Write pages to a folder.

    Parameters
    ----------
    texts
        Each page by its path in the folder.
    everything
        Whether these are all pages there are: those of earlier runs that are not among them are removed
        then, as long as nobody has changed them.

    Raises
    ------
    UnusableInput
        If a file that would be written over was not written by an earlier run; nothing is written then.
    """
    from advisor.tankfiles.store import write_atomically

    before = _manifest(folder)
    foreign = [name for name, text in texts.items() if _is_foreign(folder / name, text, before.get(name))]
    if foreign:
        what = f"'{folder / foreign[0]}' is there already, and is no page as it was written"
        more = f"and {len(foreign) - 1} more of them" if len(foreign) > 1 else ""
        raise unusable((Problem("command-114", what, label=more, mend=f"--to {folder}/pages"),))
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        write_atomically((folder / name).parent.resolve(), Path(name).name, text)
    gone, kept = _clear(
        folder, {name: mark for name, mark in before.items() if name not in texts}, everything
    )
    marks = {name: mark for name, mark in before.items() if name not in gone}
    marks |= {name: _mark(text.encode("utf-8")) for name, text in texts.items()}
    write_atomically(folder.resolve(), MANIFEST, json.dumps(marks, indent=0, sort_keys=True) + "\n")
    return Published(tuple(texts), tuple(gone), tuple(kept))


def _manifest(folder: Path) -> dict[str, str]:
    """The pages of earlier runs with their marks; none where the list cannot be read."""
    try:
        told = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
    except (FileNotFoundError, ValueError):
        return {}
    return {str(name): str(mark) for name, mark in told.items()} if isinstance(told, dict) else {}


def _mark(content: bytes) -> str:
    """What tells whether a page is still as it was written."""
    return sha256(content).hexdigest()


def _is_foreign(path: Path, text: str, mark: str | None) -> bool:
    """Whether a file is there that no earlier run wrote, or that somebody has changed."""
    if not path.exists():
        return False
    content = path.read_bytes()
    return _mark(content) != mark and content != text.encode("utf-8")


def _clear(folder: Path, old: Mapping[str, str], everything: bool) -> tuple[list[str], list[str]]:
    """Remove old pages that are as they were written; return what went, and what was changed and stays."""
    gone: list[str] = []
    kept: list[str] = []
    for name, mark in old.items() if everything else ():
        path = folder / name
        if not path.resolve().is_relative_to(folder.resolve()) or not path.is_file():
            gone.append(name)  # only its line in the list
        elif _mark(path.read_bytes()) == mark:
            path.unlink()
            gone.append(name)
        else:
            kept.append(name)
    return gone, kept
