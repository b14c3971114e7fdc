"""Writing in a tank folder so that a kill at any moment leaves the old state or the new one."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from advisor.errors import Problem, Span, unusable
from advisor.tankfiles.sources import inside

LOCK_FILE = ".tank.lock"
LOCK_SECONDS = 5.0


@contextmanager
def locked(folder: Path, seconds: float | None = None) -> Iterator[None]:
    """Hold the folder against a second writer.

    Raises
    ------
    UnusableInput
        If another program holds it for longer than `seconds` (by default
        `LOCK_SECONDS`), or it cannot be written to.
    """
    from filelock import FileLock, Timeout

    try:
        with FileLock(str(folder / LOCK_FILE), timeout=LOCK_SECONDS if seconds is None else seconds):
            yield
    except Timeout as fault:
        raise unusable(
            (
                Problem(
                    "file-107",
                    f"another program is changing {folder.name}",
                    Span(LOCK_FILE),
                    mend="wait for it, then try again",
                ),
            )
        ) from fault
    except PermissionError as fault:
        raise unusable(
            (Problem("file-101", f"{folder.name} cannot be written to", mend="look at the permissions"),)
        ) from fault


def write_atomically(folder: Path, name: str, text: str) -> None:
    """Replace one file of the folder as a whole: temporary file beside it, flushed to disk, renamed.

    Raises
    ------
    UnusableInput
        If the name leads out of the folder.
    """
    path = _own(folder, name)
    handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(text.encode("utf-8"))
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(temporary, path.stat().st_mode & 0o777 if path.exists() else 0o644)
        os.replace(temporary, path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def append_line(folder: Path, name: str, line: str) -> None:
    """Put one line at the end of a file and flush it to disk; a torn last line is closed off first.

    Raises
    ------
    UnusableInput
        If the name leads out of the folder.
    """
    path = _own(folder, name)
    torn = _ends_torn(path)
    with path.open("ab") as stream:
        stream.write((b"\n" if torn else b"") + line.encode("utf-8") + b"\n")
        stream.flush()
        os.fsync(stream.fileno())
    _sync_folder(path.parent)


def _own(folder: Path, name: str) -> Path:
    path = inside(folder, name)
    if path is None:
        raise unusable(
            (
                Problem(
                    "file-105",
                    f"{name} leads out of the tank folder",
                    Span(name),
                    mend="put the file itself here",
                ),
            )
        )
    return path


def _ends_torn(path: Path) -> bool:
    if not path.exists() or path.stat().st_size == 0:
        return False
    with path.open("rb") as stream:
        stream.seek(-1, os.SEEK_END)
        return stream.read(1) != b"\n"


def _sync_folder(folder: Path) -> None:
    """Flush the folder's own list of names; not every system can."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)
