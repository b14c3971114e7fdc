"""Rule files as they are being typed: read piece by piece, checked together with the files they belong to.

Only what changed is read again; everything is then checked as a whole, which
takes about a tenth of a second for the shipped rules.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from advisor.errors import Problem
from advisor.language.library import Library
from advisor.language.nodes import RuleFile

_VOCABULARY = "measures.rules"
"""The file by which a folder of rules is known."""


@dataclass(slots=True)
class Desk:
    """The rule files around one that is open: a folder of rules, or the shipped ones and house files."""

    folder: Path
    """The rules it is checked with."""
    house: tuple[Path, ...]
    """Files laid over them, in the tank's folder; empty where the open file is one of `folder`."""
    _read: dict[str, tuple[str, RuleFile, tuple[Problem, ...]]] = field(default_factory=dict)
    _kept: tuple[dict[str, str], Library, tuple[Problem, ...]] | None = None

    def path(self, name: str) -> Path:
        """Return where a file of a span lies."""
        inside = self.folder / name
        return inside if inside.is_file() and not Path(name).is_absolute() else Path(name)

    def name(self, path: Path) -> str:
        """Return what spans call a file."""
        if path.is_relative_to(self.folder):
            return path.relative_to(self.folder).as_posix()
        return path.as_posix()

    def library(self, typed: dict[Path, str]) -> tuple[Library, tuple[Problem, ...]]:
        """Return the checked rules and every problem; files as typed take the place of those stored."""
        from advisor.language.check import check
        from advisor.reasoning.survey import COMPUTED

        if not self._read:
            self._begin()
        texts = self._texts(typed)
        if self._kept is not None and self._kept[0] == texts:
            return self._kept[1], self._kept[2]
        files: list[RuleFile] = []
        problems: list[Problem] = []
        for name, text in texts.items():
            tree, found = self._parsed(name, text)
            files.append(tree)
            problems.extend(found)
        beyond = {self.name(path) for path in (*self.house, *typed) if not path.is_relative_to(self.folder)}
        house = [file for file in files if file.name in beyond]
        library, found = check([file for file in files if file.name not in beyond], COMPUTED, house)
        self._kept = (texts, library, (*problems, *found))
        return library, self._kept[2]

    def _begin(self) -> None:
        """Read the stored files, those that did not change since out of the cache."""
        from advisor.knowledge.cache import Cache
        from advisor.session.opening import cache_folder

        texts = self._texts({})
        trees, problems = Cache(cache_folder()).trees(tuple(texts.items()))
        for tree in trees:
            own = tuple(each for each in problems if each.span is not None and each.span.file == tree.name)
            self._read[tree.name] = (texts[tree.name], tree, own)

    def tree(self, path: Path, text: str) -> tuple[RuleFile, tuple[Problem, ...]]:
        """Return the tree of one file as it is typed, and what is wrong with its text."""
        return self._parsed(self.name(path), text)

    def _parsed(self, name: str, text: str) -> tuple[RuleFile, tuple[Problem, ...]]:
        """One file's tree, out of memory if its text is the same."""
        from advisor.language.parse import parse_file

        kept = self._read.get(name)
        if kept is None or kept[0] != text:
            kept = (text, *parse_file(name, text))
            self._read[name] = kept
        return kept[1], kept[2]

    def _texts(self, typed: dict[Path, str]) -> dict[str, str]:
        """Every file by the name spans give it."""
        from advisor.knowledge.load import read_house, read_rules

        stored = (*read_rules(self.folder)[0], *read_house(self.house)[0])
        return {**dict(stored), **{self.name(path): text for path, text in typed.items()}}


def desk_for(path: Path) -> Desk:
    """Return the files an open file belongs to: the folder of rules it lies in, or the shipped rules.

    A file beside a ``tank.yaml`` is laid over the shipped rules together with
    the other house files of that tank.
    """
    from advisor.knowledge.load import shipped_rules

    for folder in path.parents:
        if (folder / _VOCABULARY).is_file():
            return Desk(folder, ())
    return Desk(shipped_rules(), _beside(path))


def _beside(path: Path) -> tuple[Path, ...]:
    """The house files of the tank a file lies in."""
    from advisor.tankfiles.sources import find_tank_folder, house_files

    tank = find_tank_folder(path.parent) if path.parent.is_dir() else None
    if tank is None:
        return ()
    return tuple(tank / name for name in house_files(tank))
