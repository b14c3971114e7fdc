"""Rule files mended on the disk, where that cannot change a verdict."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.knowledge.load import MOST_BYTES, names_in, shipped_rules

if TYPE_CHECKING:
    from advisor.model.fixes import FileFix

_OTHER_MEANING = "it would say something else afterwards; mend it by hand"
_NOT_READ = "it cannot be read"
_NOT_WRITTEN = "it cannot be written to"


def fix_files(files: Sequence[Path]) -> tuple[FileFix, ...]:
    """Mend the rule files and those in folders, each written in one step or not at all.

    Returns
    -------
    One entry for each file in which something was, or could not be, mended. The
    rules that came along with the program are mended only if a path leads to
    them, as a folder or a file of its own.
    """
    return tuple(fix for path in rule_files(files) if (fix := _fix(path)) is not None)


def rule_files(paths: Sequence[Path]) -> tuple[Path, ...]:
    """Return the paths with every folder replaced by the rule files in it, each file once."""
    found: dict[Path, Path] = {}
    for path in paths:
        inside = [path / name for name in names_in(path)] if path.is_dir() else [path]
        for each in inside:
            found.setdefault(each.resolve(), each)
    return tuple(found.values())


def not_in_force(paths: Sequence[Path], rules: Path | None) -> tuple[Path, ...]:
    """Return the rule files at the paths that are not read already as part of the rules in force."""
    folder = (rules if rules is not None else shipped_rules()).resolve()
    return tuple(path for path in rule_files(paths) if folder not in path.resolve().parents)


def _fix(path: Path) -> FileFix | None:
    """What became of one file; None if nothing in it could be mended."""
    from advisor.language.fixes import fixed
    from advisor.model.fixes import FileFix
    from advisor.tankfiles.store import write_atomically

    name = path.as_posix()
    try:
        raw = path.read_bytes()
        text = raw.decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return FileFix(file=name, refused=_NOT_READ)
    if len(raw) > MOST_BYTES or "\0" in text:
        return FileFix(file=name, refused=_NOT_READ)
    done = fixed(name, text)
    if not done.places:
        return None
    if not done.same:
        return FileFix(file=name, places=done.places, refused=_OTHER_MEANING)
    try:
        own = path.resolve()
        write_atomically(own.parent, own.name, done.text)
    except OSError:
        return FileFix(file=name, places=done.places, refused=_NOT_WRITTEN)
    return FileFix(file=name, places=done.places)
