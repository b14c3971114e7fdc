"""Reading the rule files: shipped or given, with house files, through a cache."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import resources
from pathlib import Path

from advisor.errors import Problem, Span, UnusableInput, unusable
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


def shipped_rules() -> Path:
    """Return the folder of the rules that come with this package.

    An installed package carries them inside; beside a source tree they stand
    next to the package.

    Raises
    ------
    UnusableInput
        If there are none: the installation is broken.
    """
    inside = Path(str(resources.files("advisor.knowledge"))).parent / "_rules"
    beside = inside.parent.parent / "rules"
    for folder in (inside, beside):
        if folder.is_dir():
            return folder
    raise unusable(
        (
            Problem(
                "files-701",
                "the rules that belong to this program are missing",
                Span(str(inside)),
                mend="install it again, or give a folder with --rules",
            ),
        )
    )


def read_rules(folder: Path) -> tuple[Texts, tuple[Problem, ...]]:
    """Return every ``.rules`` file under `folder`, in the order of their names.

    Hidden folders are left out. A file that is too long, or no UTF-8, is left
    out with a problem that says so.
    """
    if not folder.is_dir():
        return (), (
            Problem(
                "files-702",
                f"there is no folder '{folder}'",
                Span(str(folder)),
                mend="give the folder that holds the rule files",
            ),
        )
    paths = sorted(
        path
        for path in folder.rglob("*.rules")
        if not any(part.startswith(".") for part in path.relative_to(folder).parts)
    )
    if not paths:
        return (), (
            Problem(
                "files-703",
                f"the folder '{folder}' holds no rule files",
                Span(str(folder)),
                mend="give a folder with files named like light.rules",
            ),
        )
    if len(paths) > MOST_FILES:
        return (), (
            Problem(
                "files-704",
                f"the folder '{folder}' holds more than {MOST_FILES} rule files",
                Span(str(folder)),
                mend="give a folder of rule files only",
            ),
        )
    return _read([(path.relative_to(folder).as_posix(), path) for path in paths])


def read_house(paths: Sequence[Path]) -> tuple[Texts, tuple[Problem, ...]]:
    """Return the house files at `paths`, each under its path as given."""
    return _read([(path.as_posix(), path) for path in paths])


def _read(files: Sequence[tuple[str, Path]]) -> tuple[Texts, tuple[Problem, ...]]:
    texts: list[tuple[str, str]] = []
    problems: list[Problem] = []
    together = 0
    for name, path in files:
        text = _read_one(name, path)
        if isinstance(text, Problem):
            problems.append(text)
            continue
        together += len(text)
        if together > MOST_BYTES_TOGETHER:
            problems.append(
                Problem(
                    "files-704",
                    "the rule files are too long together",
                    Span(name),
                    mend=f"keep them under {MOST_BYTES_TOGETHER // 1_000_000} MB",
                )
            )
            break
        texts.append((name, text))
    return tuple(texts), tuple(problems)


def _read_one(name: str, path: Path) -> str | Problem:
    """Return the text of one file, or what is wrong with it."""
    try:
        with path.open("rb") as opened:
            raw = opened.read(MOST_BYTES + 1)
    except OSError as error:
        return Problem(
            "files-705",
            f"I cannot read '{name}': {error.strerror or error}",
            Span(name),
            mend="check the name, and that you may read it",
        )
    if len(raw) > MOST_BYTES:
        return Problem(
            "files-706",
            f"'{name}' is longer than {MOST_BYTES // 1000} kB",
            Span(name),
            mend="split it into several files",
        )
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return Problem(
            "files-707",
            f"'{name}' is not plain text in UTF-8",
            Span(name, line),
            mend="save it as UTF-8 in your editor",
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
    cache = Cache(cache_dir)
    library, found = cache.library(texts, tuple(house), computed)
    return library, (*problems, *found)


__all__ = ["Texts", "UnusableInput", "load_library", "read_house", "read_rules", "shipped_rules"]
