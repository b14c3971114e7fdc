"""Reading the rule files: shipped or given, with house files, through a cache."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

from advisor.errors import Problem, Span, unusable
from advisor.knowledge.cache import Cache
from advisor.language.library import Library

MOST_FILES = 5000
"""How many rule files one folder may hold."""
MOST_BYTES = 400_000
"""How long one rule file may be. [bytes]"""
MOST_BYTES_TOGETHER = 20_000_000
"""How long all rule files may be together. [bytes]"""

Texts = tuple[tuple[str, str], ...]
"""Rule files as name and text; names are paths inside the folder, with slashes."""

_Set: TypeAlias = tuple[Library, tuple[Problem, ...]]
_MOST_AT_HAND = 3
_AT_HAND: dict[tuple[Texts, Texts, frozenset[str] | None], _Set] = {}
"""The sets of rules this process read last, by all that is in them."""


def shipped_rules() -> Path:
    """Return the folder of the rules that come with this package.

    An installed package carries them inside; beside a source tree they stand
    next to the package.

    Raises
    ------
    UnusableInput
        If there are none: the installation is broken.
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "_rules", package.parent / "rules"):
        if folder.is_dir():
            return folder
    what = "the rules that belong to this program are missing"
    raise unusable(
        (_fault("files-701", what, str(package), "install it again, or give a folder with --rules"),)
    )


def read_rules(folder: Path) -> tuple[Texts, tuple[Problem, ...]]:
    """Return every ``.rules`` file under `folder`, in the order of their names.

    Hidden folders are left out. A file that is too long, or no UTF-8, is left
    out with a problem that says so.
    """
    where = str(folder)
    if not folder.is_dir():
        return (), (
            _fault(
                "files-702",
                f"there is no folder '{where}'",
                where,
                "give the folder that holds the rule files",
            ),
        )
    names = names_in(folder)
    if not names:
        return (), (without_rules(folder),)
    if len(names) > MOST_FILES:
        what = f"the folder '{where}' holds more than {MOST_FILES} files and folders"
        return (), (_fault("files-704", what, where, "give a folder of rule files only"),)
    return _read([(name, os.path.join(where, name)) for name in names])


def without_rules(folder: Path) -> Problem:
    """Return the problem that a folder holds no rule files."""
    what = f"the folder '{folder}' holds no rule files"
    return _fault("files-703", what, str(folder), "give a folder with files named like light.rules")


def read_house(paths: Sequence[Path]) -> tuple[Texts, tuple[Problem, ...]]:
    """Return the house files at `paths`, each under its path as given."""
    return _read([(path.as_posix(), str(path)) for path in paths])


def _fault(code: str, what: str, name: str, mend: str, line: int = 1) -> Problem:
    """Return a problem about a file or folder as a whole."""
    return Problem(code, what, Span(name, line), mend=mend)


def names_in(folder: Path) -> list[str]:
    """Return the names of all rule files below `folder`, with slashes; stops where there are too many.

    Hidden files and folders are left out.
    """
    found: list[str] = []
    for folders, (parent, inner, files) in enumerate(os.walk(folder), start=1):
        inner[:] = sorted(name for name in inner if not name.startswith("."))
        within = os.path.relpath(parent, folder).replace(os.sep, "/")
        start = "" if within == "." else f"{within}/"
        found.extend(start + name for name in files if name.endswith(".rules") and not name.startswith("."))
        if len(found) + folders > MOST_FILES:
            return found + [""] * folders
    return sorted(found)


def _read(files: Sequence[tuple[str, str]]) -> tuple[Texts, tuple[Problem, ...]]:
    """Return name and text of every file that can be read, within the bounds."""
    texts: list[tuple[str, str]] = []
    problems: list[Problem] = []
    together = 0
    for name, path in files:
        text, problem = _read_one(name, path)
        if problem is not None:
            problems.append(problem)
        if text is None:
            continue
        together += len(text)
        if together > MOST_BYTES_TOGETHER:
            most = MOST_BYTES_TOGETHER // 1_000_000
            problems.append(
                _fault(
                    "files-704", "the rule files are too long together", name, f"keep them under {most} MB"
                )
            )
            break
        texts.append((name, text))
    return tuple(texts), tuple(problems)


def _read_one(name: str, path: str) -> tuple[str | None, Problem | None]:
    """Return the text of one file, and what is wrong with it."""
    try:
        with open(path, "rb") as opened:
            raw = opened.read(MOST_BYTES + 1)
    except OSError as error:
        what = f"I cannot read '{name}': {error.strerror or error}"
        return None, _fault("files-705", what, name, "check the name, and that you may read it")
    if len(raw) > MOST_BYTES:
        what = f"'{name}' is longer than {MOST_BYTES // 1000} kB"
        return None, _fault("files-706", what, name, "split it into several files")
    try:
        text = _plain(raw)
    except UnicodeDecodeError as error:
        if error.end == len(raw) and error.reason == "unexpected end of data":
            text = _plain(raw[: error.start])
            return text, _cut_off(name, text)
        return None, _no_text(name, raw, error.start)
    return (None, _no_text(name, raw, raw.index(0))) if 0 in raw else (text, None)


def _plain(raw: bytes) -> str:
    """The text of a file, without a byte order mark, its lines parted by one sign."""
    return raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")


def _no_text(name: str, raw: bytes, at: int) -> Problem:
    """A file that is something else than text."""
    line = raw[:at].count(b"\n") + 1
    what = f"'{name}' is not plain text in UTF-8"
    return _fault("files-707", what, name, "save it as UTF-8 in your editor", line)


def _cut_off(name: str, text: str) -> Problem:
    """A file whose last letter is there by half."""
    line = text.count("\n") + 1
    last = text.rpartition("\n")[2]
    return Problem(
        "files-708",
        f"'{name}' ends in the middle of a letter",
        Span(name, line, len(last) + 1, line, len(last) + 2, last),
        "the file was cut off here",
        "take the whole file from a copy, or finish this line",
    )


def load_library(
    rules_dir: Path | None,
    house: Sequence[tuple[str, str]] = (),
    cache_dir: Path | None = None,
    computed: frozenset[str] | None = None,
) -> tuple[Library, tuple[Problem, ...]]:
    """Return the checked rule files with the house files laid over, and every problem found.

    Parameters
    ----------
    rules_dir
        Folder of rule files; None for those that come with the package.
    house
        House files as name and text, in the order they are laid over.
    cache_dir
        Folder to keep read files in, as JSON; None to keep none. A cache that
        cannot be read or written changes nothing but the time taken.
    computed
        The names that ``computed by`` may use in a measure; None leaves them unchecked.

    Notes
    -----
    What is kept is keyed by the content of every file and the edition of the
    tree, so a changed file is always read anew, and only that one.
    """
    texts, problems = read_rules(rules_dir if rules_dir is not None else shipped_rules())
    asked = (tuple(texts), tuple(house), computed)
    if asked not in _AT_HAND:
        while len(_AT_HAND) >= _MOST_AT_HAND:
            del _AT_HAND[next(iter(_AT_HAND))]
        _AT_HAND[asked] = _checked(Cache(cache_dir), *asked)
    library, found = _AT_HAND[asked]
    return library, (*problems, *found)


def _checked(cache: Cache, texts: Texts, house: Texts, computed: frozenset[str] | None) -> _Set:
    """Rules and house files as one checked set."""
    from advisor.knowledge.shared_names import shared_names

    library, found = cache.library(texts, house, computed)
    return library, (*found, *shared_names(library))
