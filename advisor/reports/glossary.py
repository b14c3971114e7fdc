"""Long texts for problem codes and for the words an answer uses, kept in ``glossary.txt``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from advisor.reports.page import Block, Page, Part, Tone, Verbatim, labelled, line

_CODE = re.compile(r"([a-z]+-)\d+")


@dataclass(frozen=True, slots=True)
class Entry:
    """One text and the words it is found under."""

    names: tuple[str, ...]
    text: str

    @property
    def heading(self) -> str:
        """The first of its names."""
        return self.names[0]


@cache
def entries() -> tuple[Entry, ...]:
    """Return every entry, in the order of the file."""
    content = files("advisor.reports").joinpath("glossary.txt").read_text(encoding="utf-8")
    return tuple(map(_entry, content.removeprefix("# ").split("\n# ")))


def _entry(chunk: str) -> Entry:
    heading, _, text = chunk.partition("\n")
    whole = heading.strip()
    names = (whole,) if whole.isupper() and whole.startswith("YES") else tuple(whole.split(", "))
    return Entry(names, text.strip("\n"))


def headings() -> tuple[str, ...]:
    """Return every word something is written about."""
    return tuple(name for each in entries() for name in each.names)


def entry(wanted: str) -> Entry | None:
    """Return the entry for a word or code; a code without one of its own gets that of its family."""
    by_name = {name.lower(): each for each in entries() for name in each.names}
    word = wanted.strip().lower()
    family = _CODE.fullmatch(word)
    return by_name.get(word) or (by_name.get(family.group(1)) if family else None)


def text_page(found: Entry) -> Page:
    """Return one entry; lines that are indented in the file keep their form."""
    blocks: list[Block] = [line(", ".join(name.removesuffix("-") for name in found.names), Tone.HEAD)]
    for paragraph in re.split(r"\n(?=  )", found.text):
        kept = paragraph.startswith("  ")
        blocks.append(Verbatim((Part(paragraph),)) if kept else line(" ".join(paragraph.split())))
    return tuple(blocks)


def index_page() -> Page:
    """Return the list of everything that can be explained."""
    codes = [name for name in headings() if re.search(r"-(\d+)?$", name) and not name.startswith("--")]
    words = [name for name in headings() if name not in codes]
    return (
        labelled("words", " | ".join(words), width=7),
        labelled(
            "codes", " | ".join(f"{code}..." if code.endswith("-") else code for code in codes), width=7
        ),
    )
