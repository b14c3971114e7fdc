"""Long texts for problem codes and for the words an answer uses.

The words stand in ``glossary.txt``, the codes in ``codes/FAMILY.txt``: a
heading ``# word-104 a name nobody knows``, a paragraph, and samples below
``before:`` and ``after:``. ``before readings.csv:`` names the file of a tank
folder that the sample stands in. A heading that ends in a hyphen is that of the
whole family. A new code needs a text and no Python.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import groupby

from advisor.reports.page import Blank, Block, Page, Part, Tone, Verbatim, labelled, line

_CODE = re.compile(r"([a-z]+-)(\d*)")
_CODE_HEADING = re.compile(r"([a-z]+-(?:\d{3})?) (\S.*)")
_SAMPLE = re.compile(r"(before|after)(?: (\S+))?:")


@dataclass(frozen=True, slots=True)
class Sample:
    """How a fault looks, or its mend."""

    text: str
    file: str = ""
    """The file of a tank folder it stands in; empty for a rule file and for what is typed."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One text and the words it is found under."""

    names: tuple[str, ...]
    text: str
    title: str = ""
    """What a code is about, in a few words."""

    @property
    def heading(self) -> str:
        """The first of its names."""
        return self.names[0]

    @property
    def family(self) -> str:
        """The family of a code, ``word-``; empty for a word."""
        found = _CODE.fullmatch(self.heading)
        return found.group(1) if found is not None and self.title else ""

    def sample(self, which: str) -> Sample | None:
        """Return the sample below ``before:`` or ``after:``, if there is one."""
        kept: list[str] = []
        file, inside = "", False
        for each in self.text.split("\n"):
            mark = _SAMPLE.fullmatch(each)
            if mark is not None:
                inside = mark.group(1) == which
                file = mark.group(2) or "" if inside else file
            elif inside:
                kept.append(each[2:])
        return Sample("\n".join(kept).rstrip("\n") + "\n", file) if kept else None

    @property
    def words(self) -> str:
        """The text without its samples."""
        return re.split(rf"(?m)^{_SAMPLE.pattern}$", self.text)[0].strip("\n")


@cache
def entries() -> tuple[Entry, ...]:
    """Return every entry: the words in the order of their file, then the codes."""
    folder = files("advisor.reports")
    words = _entries(folder.joinpath("glossary.txt").read_text(encoding="utf-8"))
    families = sorted(
        (each for each in folder.joinpath("codes").iterdir() if each.name.endswith(".txt")),
        key=lambda each: each.name,
    )
    codes = [entry for each in families for entry in _entries(each.read_text(encoding="utf-8"))]
    return (*words, *codes)


def _entries(content: str) -> tuple[Entry, ...]:
    return tuple(map(_entry, content.removeprefix("# ").split("\n# ")))


def _entry(chunk: str) -> Entry:
    heading, _, text = chunk.partition("\n")
    whole = heading.strip()
    code = _CODE_HEADING.fullmatch(whole)
    if code is not None:
        return Entry((code.group(1),), text.strip("\n"), code.group(2))
    names = (whole,) if whole.isupper() and whole.startswith(("YES", "LIKELY")) else tuple(whole.split(", "))
    return Entry(names, text.strip("\n"))


def headings() -> tuple[str, ...]:
    """Return every word something is written about."""
    return tuple(name for each in entries() for name in each.names)


def entry(wanted: str) -> Entry | None:
    """Return the entry for a word or code, typed with spaces or hyphens; a family also without its last."""
    by_name = {name.lower(): each for each in entries() for name in each.names}
    word = wanted.strip().lower().rstrip(":")
    return by_name.get(word) or by_name.get(f"{word}-") or by_name.get(word.replace("-", " "))


def text_page(found: Entry) -> Page:
    """Return one entry; what is indented in the file keeps its form, and a family lists its codes."""
    heading = ", ".join(name.removesuffix("-") for name in found.names)
    blocks: list[Block] = [line(f"{heading}  {found.title}" if found.title else heading, Tone.HEAD)]
    for kept, lines in groupby(found.text.split("\n"), key=_kept):
        if kept is None:
            blocks.append(Blank())
        elif kept:
            blocks.extend(Verbatim((Part(each),)) for each in lines)
        else:
            blocks.extend(_flowing(list(lines)))
    members = [each for each in entries() if each.family == found.heading and each is not found]
    blocks.extend(labelled(each.heading, each.title, indent=2, width=14) for each in members)
    return tuple(blocks)


def _kept(text: str) -> bool | None:
    """Whether a line keeps its form; None for an empty one."""
    return text.startswith("  ") if text.strip() else None


def _flowing(lines: list[str]) -> Iterator[Block]:
    """Lines that run together, but for those that head a sample."""
    words = " ".join(" ".join(each for each in lines if _SAMPLE.fullmatch(each) is None).split())
    if words:
        yield line(words)
    for each in lines:
        if _SAMPLE.fullmatch(each) is not None:
            yield line(each, Tone.QUIET)


def index_page() -> Page:
    """Return the list of everything that can be explained."""
    words = [name for each in entries() if not each.title for name in each.names]
    families = [f"{each.heading}..." for each in entries() if each.title and each.heading.endswith("-")]
    return (
        labelled("words", " | ".join(words), width=7),
        labelled("codes", " | ".join(families), width=7),
    )


def explained(found: Entry) -> dict[str, str]:
    """Return one entry as plain data, the mirror of what is printed."""
    before, after = found.sample("before"), found.sample("after")
    return {
        "word": found.heading,
        "title": found.title,
        "text": found.words if before or after else found.text,
        "before": before.text if before else "",
        "after": after.text if after else "",
        "file": before.file if before else "",
    }
