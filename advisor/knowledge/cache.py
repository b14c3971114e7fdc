"""Read rule files kept as JSON, keyed by content: a start without parsing when nothing changed."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

from advisor.errors import Problem
from advisor.language.library import Library
from advisor.language.nodes import RuleFile

Text = tuple[str, str]
"""Name and content of one rule file."""

_KEPT = 6
"""How many checked sets of rules are kept before the oldest goes."""
_PARSED = "parsed.json"


class Cache:
    """Parsed and checked rule files in one folder, or nowhere.

    Two kinds of file: `parsed.json` holds the tree of each rule file under the
    hash of its text, so that an edit costs one file; `checked-HASH.json` holds
    a whole set that was found without fault. Whatever goes wrong with either
    is passed over: the rules are read anew.
    """

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def library(self, texts: Sequence[Text], house: Sequence[Text]) -> tuple[Library, tuple[Problem, ...]]:
        """Return `texts` with the house files `house` laid over, checked, and every problem found."""
        name = f"checked-{_hash_of_all((*texts, ('', ''), *house))}.json"
        kept = self._checked(name)
        if kept is not None:
            return kept, ()
        from advisor.language.check import check

        files, problems = self._parse((*texts, *house))
        library, found = check(files)
        everything = (*problems, *found)
        if not everything:
            self._keep_checked(name, library)
        return library, everything

    def _checked(self, name: str) -> Library | None:
        """Return the kept set of that name, if there is a sound one."""
        from advisor.language.codec import library_from_data

        data = self._read(name)
        if data is None:
            return None
        try:
            return library_from_data(data)
        except (KeyError, TypeError, ValueError, IndexError, AttributeError):
            return None

    def _keep_checked(self, name: str, library: Library) -> None:
        from advisor.language.codec import library_to_data

        if self._folder is not None:
            self._write(name, library_to_data(library))
            self._forget_old()

    def _parse(self, texts: Sequence[Text]) -> tuple[tuple[RuleFile, ...], tuple[Problem, ...]]:
        """Return every file's tree, those that did not change out of the cache."""
        from advisor.language.codec import from_data, to_data
        from advisor.language.parse import parse_file

        kept = self._read(_PARSED)
        old = kept if isinstance(kept, dict) else {}
        new: dict[str, object] = {}
        files: list[RuleFile] = []
        problems: list[Problem] = []
        for name, text in texts:
            key = _hash_of_all(((name, text),))
            tree = _tree(old.get(key), from_data)
            if tree is None:
                tree, found = parse_file(name, text)
                problems.extend(found)
                if not found:
                    new[key] = to_data(tree)
            else:
                new[key] = old[key]
            files.append(tree)
        if new.keys() != old.keys():
            self._write(_PARSED, new)
        return tuple(files), tuple(problems)

    def _read(self, name: str) -> object:
        """Return the JSON of one cache file, or None."""
        if self._folder is None:
            return None
        try:
            return json.loads((self._folder / name).read_bytes())
        except (OSError, ValueError, RecursionError):
            return None

    def _write(self, name: str, data: object) -> None:
        """Put one cache file in place in a single step, or leave things as they are."""
        if self._folder is None:
            return
        with contextlib.suppress(OSError, ValueError, TypeError):
            self._folder.mkdir(parents=True, exist_ok=True)
            handle, path = tempfile.mkstemp(prefix=f".{name}-", dir=self._folder)
            try:
                with os.fdopen(handle, "w", encoding="utf-8") as opened:
                    json.dump(data, opened, ensure_ascii=False, separators=(",", ":"))
                Path(path).replace(self._folder / name)
            except BaseException:
                Path(path).unlink(missing_ok=True)
                raise

    def _forget_old(self) -> None:
        """Drop all but the newest checked sets."""
        if self._folder is None:
            return
        with contextlib.suppress(OSError):
            kept = sorted(self._folder.glob("checked-*.json"), key=lambda path: path.stat().st_mtime)
            for path in kept[:-_KEPT]:
                path.unlink(missing_ok=True)


def _hash_of_all(texts: Sequence[Text]) -> str:
    """Return one hash over names and contents and the edition of the kept form."""
    from advisor.language.codec import CODEC_VERSION

    digest = hashlib.sha256(f"{CODEC_VERSION}".encode())
    for part in (part for text in texts for part in text):
        raw = part.encode("utf-8", "replace")
        digest.update(len(raw).to_bytes(8, "big"))
        digest.update(raw)
    return digest.hexdigest()[:32]


def _tree(data: object, read: Callable[[object], object]) -> RuleFile | None:
    """Return the tree that was kept as `data`, if it is sound."""
    if data is None:
        return None
    try:
        tree = read(data)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError):
        return None
    return tree if isinstance(tree, RuleFile) else None
