"""Read rule files kept as JSON, keyed by content: a start without parsing when nothing changed."""

from __future__ import annotations

import contextlib
import gc
import hashlib
import json
import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TypeVar

from advisor.errors import Problem
from advisor.language.codec import CODEC_VERSION, from_data, library_from_data, library_to_data, to_data
from advisor.language.library import Library
from advisor.language.nodes import RuleFile

Text = tuple[str, str]
"""Name and content of one rule file."""

_Kept = TypeVar("_Kept")
_Found = TypeVar("_Found")

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

    def library(
        self, texts: Sequence[Text], house: Sequence[Text], computed: frozenset[str] | None = None
    ) -> tuple[Library, tuple[Problem, ...]]:
        """Return `texts` with the house files `house` laid over, checked, and every problem found."""
        names = sorted(computed) if computed is not None else ["*"]
        name = f"checked-{_hash_of((*texts, ('', ' '.join(names)), *house))}.json"
        kept = self._checked(name)
        if kept is not None:
            return kept, ()
        from advisor.language.check import check

        files, problems = self.trees((*texts, *house))
        library, found = check(files[: len(texts)], computed, files[len(texts) :])
        everything = (*problems, *found)
        if not everything:
            self._keep_checked(name, library)
        return library, everything

    def _checked(self, name: str) -> Library | None:
        """Return the kept set of that name, if there is a sound one."""
        with _no_collecting():
            data = self._read(name)
            return None if data is None else _sound(library_from_data, data)

    def _keep_checked(self, name: str, library: Library) -> None:
        if self._folder is not None:
            self._write(name, library_to_data(library))
            self._forget_old()

    def trees(self, texts: Sequence[Text]) -> tuple[tuple[RuleFile, ...], tuple[Problem, ...]]:
        """Return every file's tree, those that did not change out of the cache, and every problem found."""
        kept = self._read(_PARSED)
        old = kept if isinstance(kept, dict) else {}
        new: dict[str, str] = {}
        files: list[RuleFile] = []
        problems: list[Problem] = []
        for text in texts:
            key = _hash_of((text,))
            tree, found, packed = _parse_one(text, old.get(key), keep=self._folder is not None)
            files.append(tree)
            problems.extend(found)
            if packed is not None:
                new[key] = packed
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
        import tempfile

        with contextlib.suppress(OSError, ValueError, TypeError):
            self._folder.mkdir(parents=True, exist_ok=True)
            handle, path = tempfile.mkstemp(prefix=f".{name}-", dir=self._folder)
            try:
                with os.fdopen(handle, "w", encoding="utf-8") as opened:
                    # all at once: writing piece by piece takes ten times as long
                    opened.write(_packed(data))
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


@contextlib.contextmanager
def _no_collecting() -> Iterator[None]:
    """Hold back the garbage collector while many lasting objects are made: half the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _hash_of(texts: Sequence[Text]) -> str:
    """Return one hash over names and contents and the edition of the kept form."""
    digest = hashlib.sha256(CODEC_VERSION.encode())
    for part in (part for text in texts for part in text):
        raw = part.encode("utf-8", "replace")
        digest.update(len(raw).to_bytes(8, "big"))
        digest.update(raw)
    return digest.hexdigest()[:32]


def _parse_one(text: Text, packed: object, *, keep: bool) -> tuple[RuleFile, tuple[Problem, ...], str | None]:
    """Return a file's tree, out of `packed` if that is sound, and what to keep of it.

    The tree is kept as a text of its own: reading uses up the data it reads.
    """
    if isinstance(packed, str):
        kept = _sound(lambda raw: from_data(json.loads(raw)), packed)
        if kept is not None:
            return kept, (), packed
    from advisor.language.parse import parse_file

    tree, found = parse_file(*text)
    return tree, found, None if found or not keep else _packed(to_data(tree))


def _packed(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _sound(read: Callable[[_Kept], _Found], data: _Kept) -> _Found | None:
    """Return what `read` makes of kept data, or None where that is damaged."""
    try:
        return read(data)
    except (KeyError, TypeError, ValueError, IndexError, AttributeError, AssertionError):
        return None
