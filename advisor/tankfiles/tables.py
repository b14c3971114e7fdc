"""Spreadsheet exports: readings.csv, corals.csv and spots.csv as the same entries a tank.yaml holds."""

from __future__ import annotations

import csv
import io
import re
from itertools import chain

from advisor.errors import Span
from advisor.tankfiles.facts import OTHER_SPELLINGS
from advisor.tankfiles.ledger import Ledger, listed, try_closest
from advisor.tankfiles.nodes import Keyed, Node, Scalar, check_text, key_of
from advisor.units import UNITS

MAX_ROWS = 50_000

_COMMON = {
    "date": "on",
    "day": "on",
    "when": "on",
    "measured": "on",
    "measured-on": "on",
    "on": "on",
    "date-measured": "on",
    "instrument": "how",
    "meter": "how",
    "method": "how",
    "device": "how",
    "tool": "how",
    "how": "how",
    "by": "by",
    "who": "by",
    "measured-by": "by",
    "person": "by",
    "note": "note",
    "notes": "note",
    "comment": "note",
    "comments": "note",
    "remark": "note",
    "remarks": "note",
    "id": "id",
    "name": "name",
    "rock": "rock",
    "place": "place",
    "position": "place",
    "umol": "light",
    "µmol": "light",
    "light-level": "light",
    "light-par": "light",
    "flow-speed": "flow",
    "speed": "flow",
    "velocity": "flow",
    "water-speed": "flow",
    "x": "x",
    "y": "y",
    "z": "z",
    "height": "z",
}
_READINGS = {
    "spot": "spot",
    "location": "spot",
    "place": "spot",
    "point": "spot",
    "where": "spot",
    "spot-id": "spot",
    "name": "spot",
    "id": "spot",
    "position": "spot",
    "animal": "animal",
    "coral": "animal",
    "colony": "animal",
    "tank": "tank",
    "height": "height",
    "output": "output",
    "lamp-output": "output",
    "intensity": "output",
    "immersion-factor": "immersion-factor",
    "immersion": "immersion-factor",
}
_CORALS = {
    "coral": "is",
    "species": "is",
    "taxon": "is",
    "type": "is",
    "animal": "is",
    "what": "is",
    "is": "is",
    "kind": "is",
    "spot": "spot",
    "location": "spot",
    "where": "spot",
    "placed-on": "placed",
    "date-placed": "placed",
    "date": "placed",
    "added": "placed",
    "stage": "phase",
    "status": "phase",
    "origin-par": "comes-from",
    "seller-par": "comes-from",
    "par-at-seller": "comes-from",
    "par-at-shop": "comes-from",
    "shop-par": "comes-from",
    "comes-from": "comes-from",
    "origin": "comes-from",
    "colony": "clone",
    "mother-colony": "clone",
    "diameter": "size",
    "width": "size",
}
_SPOTS = {"spot": "id", "spot-id": "id", "location": "place", "where": "place"}
SPELLINGS = {
    "readings.csv": _COMMON | _READINGS,
    "corals.csv": _COMMON | _CORALS,
    "spots.csv": _COMMON | _SPOTS,
}
"""Common headings of each file, in one spelling, and the keys they stand for."""

_END = "\udc00"
"""Put after the last line: read as a row of its own unless a quote is still open. No file can hold it."""
_SHOWN = 200
_UNIT_IN_HEAD = re.compile(r"^(.*?)\s*[(\[]\s*([^)\]]+?)\s*[)\]]$")


def read_table(text: str, file: str, known: tuple[str, ...], ledger: Ledger) -> list[Node]:
    """Return each row of a spreadsheet export as an entry, its headings turned into keys.

    Parameters
    ----------
    text
        The whole file; parted by comma, semicolon or tab.
    file
        One of the names of `SPELLINGS`.
    known
        Keys of the vocabulary that may stand as headings.
    ledger
        Where faults are noted.
    """
    lines = text.splitlines()
    parter = _parter(lines[0] if lines else "")
    try:
        rows, endless = _rows(text, parter)
    except csv.Error:
        _note_too_long(file, lines, ledger)
        return []
    if endless:
        _note_endless(endless, file, lines, ledger)
        if not rows:
            return []
    if not rows:
        ledger.note(
            "file-102", f"{file} is empty", Span(file), mend="a line of headings first, then a line for each"
        )
        return []
    if len(rows) > MAX_ROWS:
        ledger.note("yaml-114", f"{file} has more than {MAX_ROWS} rows", Span(file), mend="split it")
        return []
    heads = _heads(rows[0][1], file, known, parter, lines, ledger)
    return [
        row
        for number, cells in rows[1:]
        if any(c.strip() for c in cells)
        for row in _row(number, cells, heads, file, parter, lines, ledger)
    ]


def _note_endless(number: int, file: str, lines: list[str], ledger: Ledger) -> None:
    """Note a text in quotes that the file ends within, where its quote was opened."""
    line = lines[number - 1]
    at = line.rfind('"') + 1
    ledger.note(
        "csv-172",
        "this quote is never closed",
        Span(file, number, at, number, at + 1, line),
        label="all that follows would be one field",
        mend=f'{line[at - 1 :]}"',
    )


def _note_too_long(file: str, lines: list[str], ledger: Ledger) -> None:
    """Note a field longer than any that is read: behind an open quote, else in the longest line."""
    odd = next((number for number, line in enumerate(lines, start=1) if line.count('"') % 2), 0)
    if odd:
        _note_endless(odd, file, lines, ledger)
        return
    number = max(range(len(lines)), key=lambda index: len(lines[index])) + 1
    ledger.note(
        "csv-172",
        f"{file} has a field of more than {csv.field_size_limit()} characters",
        Span(file, number, 1, number, 2, lines[number - 1][:_SHOWN]),
        label="the longest line",
        mend="a few words; a long story belongs into note: in tank.yaml",
    )


def _parter(head: str) -> str:
    return max((",", ";", "\t"), key=lambda mark: (head.count(mark), mark == ","))


def _rows(text: str, parter: str) -> tuple[list[tuple[int, list[str]]], int]:
    """The rows with the lines they begin on, and the line of a row that the file ends within, else 0."""
    lines = chain(io.StringIO(text, newline=""), ("\n", _END))
    reader = csv.reader(lines, delimiter=parter, skipinitialspace=True, strict=False)
    rows: list[tuple[int, list[str]]] = []
    begun = 1
    for cells in reader:
        if cells == [_END]:
            return rows, 0
        if cells and _END in cells[-1]:
            return rows, begun
        if any(c.strip() for c in cells) and not cells[0].lstrip().startswith("#"):
            rows.append((begun, cells))
        begun = reader.line_num + 1
    return rows, 0


def _cell_span(file: str, number: int, index: int, parter: str, lines: list[str]) -> Span:
    """Where one cell of a row stands; a parter inside quotes does not count."""
    line = lines[number - 1] if 0 < number <= len(lines) else ""
    starts, quoted = [0], False
    for at, mark in enumerate(line):
        if mark == '"':
            quoted = not quoted
        elif mark == parter and not quoted:
            starts.append(at + 1)
    if index >= len(starts):
        return Span(file, number, 1, number, 2, line)
    begin = starts[index] + len(line[starts[index] :]) - len(line[starts[index] :].lstrip())
    end = starts[index + 1] - 1 if index + 1 < len(starts) else len(line)
    return Span(file, number, begin + 1, number, max(end, begin + 1) + 1, line)


def _heads(
    cells: list[str], file: str, known: tuple[str, ...], parter: str, lines: list[str], ledger: Ledger
) -> list[tuple[str, str] | None]:
    """The key and unit of each column; None for one that is not known (noted) or has no heading."""
    spellings = SPELLINGS.get(file, _COMMON)
    first = next((n for n, line in enumerate(lines, start=1) if line.strip() and not line.startswith("#")), 1)
    heads: list[tuple[str, str] | None] = []
    for index, cell in enumerate(cells):
        name, unit = _split_unit(cell.strip())
        key = key_of(name)
        found = spellings.get(key) or (
            OTHER_SPELLINGS.get(key, key) if key in known or key in OTHER_SPELLINGS else ""
        )
        if not found and name:
            ledger.note(
                "csv-171",
                f"I do not know the heading '{cell.strip()}'",
                _cell_span(file, first, index, parter, lines),
                label=f"such as {listed(sorted(spellings), 8)}",
                mend=try_closest(key, (*spellings, *known), "call it note, or take the column out"),
            )
        heads.append((found, unit) if found else None)
    return heads


def _split_unit(head: str) -> tuple[str, str]:
    """Part `flow (cm/s)` or `size cm` into name and unit."""
    bracketed = _UNIT_IN_HEAD.match(head)
    if bracketed is not None:
        unit = bracketed.group(2)
        return bracketed.group(1), unit if unit in UNITS else ""
    name, _, last = head.rpartition(" ")
    if name and last in UNITS and last.lower() not in ("par", "d", "h", "s", "m", "in"):
        return name, last
    return head, ""


def _row(
    number: int,
    cells: list[str],
    heads: list[tuple[str, str] | None],
    file: str,
    parter: str,
    lines: list[str],
    ledger: Ledger,
) -> list[Node]:
    line_span = Span(file, number, 1, number, 2, lines[number - 1] if number <= len(lines) else "")
    if len(cells) > len(heads) and any(c.strip() for c in cells[len(heads) :]):
        ledger.note(
            "csv-172",
            f"this row has {len(cells)} fields, the heading {len(heads)}",
            line_span,
            mend='put a text that holds the mark between fields in quotes: "meter, corrected"',
        )
        return []
    entries: list[tuple[Scalar, Node]] = []
    for index, (cell, head) in enumerate(zip(cells, heads, strict=False)):
        if head is None or not cell.strip():
            continue
        key, unit = head
        span = _cell_span(file, number, index, parter, lines)
        bare = bool(unit) and re.fullmatch(r"[-+\d.,±\s–to]+", cell.strip()) is not None
        value = Scalar(f"{cell.strip()} {unit}" if bare else cell.strip(), span)
        check_text(value, ledger)
        entries.append((Scalar(key, span), value))
    return [Keyed(_joined(tuple(entries), line_span), line_span)]


def _joined(entries: tuple[tuple[Scalar, Node], ...], span: Span) -> tuple[tuple[Scalar, Node], ...]:
    """Columns x, y and z are one position."""
    axes = tuple((k, v) for k, v in entries if k.text in ("x", "y", "z"))
    rest = tuple((k, v) for k, v in entries if k.text not in ("x", "y", "z"))
    return (*rest, (Scalar("at", axes[0][0].span), Keyed(axes, axes[0][0].span))) if axes else rest
