"""Files of a tank folder as text: found, kept inside the folder, bounded, and in UTF-8."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from advisor.errors import Span
from advisor.tankfiles.ledger import Ledger, closest

TANK_FILE = "tank.yaml"
JOURNAL_FILE = "journal.jsonl"
READINGS_FILE = "readings.csv"
CORALS_FILE = "corals.csv"
SPOTS_FILE = "spots.csv"

MAX_YAML_BYTES = 4_000_000
MAX_TABLE_BYTES = 20_000_000
MAX_SCAN_BYTES = 100_000_000


def find_tank_folder(start: Path) -> Path | None:
    """Return `start` or its nearest parent that holds a tank.yaml, or None."""
    here = start.resolve()
    for folder in (here, *here.parents):
        if (folder / TANK_FILE).is_file():
            return folder
    return None


def inside(folder: Path, name: str) -> Path | None:
    """Return the path of `name` in `folder`, or None where it leads out of it."""
    if not name or "\0" in name:
        return None
    try:
        path = (folder / name).resolve()
        return path if path.is_relative_to(folder.resolve()) else None
    except (OSError, RuntimeError, ValueError):
        return None


def read_bytes(folder: Path, name: str, ledger: Ledger, most_bytes: int, span: Span) -> bytes | None:
    """Return one file of the folder that the tank file names, as it is, or None with the reason noted."""
    path = inside(folder, name)
    if path is None:
        what = f"'{name}' leads out of the tank folder"
        ledger.note("file-105", what, span, mend="put the file into the folder")
        return None
    if not path.is_file():
        folders = path.is_dir()
        what = f"'{name}' is a folder, not a file" if folders else f"there is no '{name}' in this folder"
        near = "" if folders or not path.parent.is_dir() else closest(path.name, _files(path.parent))
        mend = near or ("name a file in it" if folders else "correct the name, or take the line out")
        ledger.note("file-101", what, span, mend=mend)
        return None
    try:
        size = path.stat().st_size
        if size > most_bytes:
            what = f"{name} has {size / 1e6:.1f} MB, more than the {most_bytes / 1e6:.0f} MB I read"
            ledger.note("file-103", what, span, mend="save it with fewer faces")
            return None
        with path.open("rb") as stream:
            return stream.read(most_bytes + 1)[:most_bytes]
    except OSError as fault:
        _note_no_access(fault, name, span, ledger)
        return None


def _files(folder: Path) -> tuple[str, ...]:
    """Names of the files of a folder."""
    try:
        return tuple(sorted(each.name for each in folder.iterdir() if each.is_file()))
    except OSError:
        return ()


def mend_of_access(fault: OSError, name: str) -> str:
    """Return what to do about a file the system refuses; nothing where that cannot be told."""
    path = Path(name)
    match fault:
        case IsADirectoryError():
            return f"put a file there, {name} is a folder"
        case PermissionError():
            return f"chmod u+rw {name}" if os.name == "posix" else f"let your account use {name}"
        case FileNotFoundError() if path.parent.is_dir():
            near = closest(path.name, (other.name for other in path.parent.iterdir()))
            return str(path.with_name(near)) if near else f"there is no {path.name}: correct the name"
        case FileNotFoundError():
            return f"mkdir -p {path.parent}" if os.name == "posix" else f"make the folder {path.parent}"
        case OSError(errno=errno.ENOSPC):
            return "make room on this disk, then do it again"
        case _:
            return ""


def read_text(
    folder: Path, name: str, ledger: Ledger, most_bytes: int, *, needed: bool = False
) -> str | None:
    """Return the text of one file of the folder, or None with the reason noted.

    A file that is not there is a fault only where it is `needed`. The size is
    looked at before anything is read.
    """
    path = inside(folder, name)
    if path is None:
        ledger.note(
            "file-105", f"{name} leads out of the tank folder", Span(name), mend="put the file itself here"
        )
        return None
    if not path.exists():
        if needed:
            ledger.note(
                "file-101",
                f"there is no {name} in this folder",
                Span(name),
                mend="advisor tank new DIR makes a tank folder",
            )
        return None
    try:
        return _read(path, name, ledger, most_bytes)
    except OSError as fault:
        _note_no_access(fault, name, Span(name), ledger)
        return None


def _note_no_access(fault: OSError, name: str, span: Span, ledger: Ledger) -> None:
    """Note a file that is there and cannot be read."""
    mend = mend_of_access(fault, name)
    ledger.note("file-101", f"{name} cannot be read: {fault.strerror or 'no access'}", span, mend=mend)


def _read(path: Path, name: str, ledger: Ledger, most_bytes: int) -> str | None:
    size = path.stat().st_size
    if size > most_bytes:
        ledger.note(
            "file-103",
            f"{name} has {size / 1e6:.1f} MB, more than the {most_bytes / 1e6:.0f} MB I read",
            Span(name),
            mend="split it, or take out what is not about the tank",
        )
        return None
    with path.open("rb") as stream:
        raw = stream.read(most_bytes + 1)[:most_bytes]
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        before = raw[: fault.start]
        line = before.count(b"\n") + 1
        ledger.note(
            "file-104",
            f"{name} is not written in UTF-8",
            Span(name, line, fault.start - before.rfind(b"\n")),
            label="this byte cannot be read",
            mend="save the file again as UTF-8 text",
        )
        return None


def house_files(folder: Path) -> tuple[str, ...]:
    """Return the names of the rule files that lie beside tank.yaml, sorted."""
    try:
        return tuple(sorted(p.name for p in folder.glob("*.rules") if p.is_file() and inside(folder, p.name)))
    except OSError:
        return ()
