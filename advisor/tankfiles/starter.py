"""A new tank folder from a few plain answers and a pasted list of corals."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.errors import Problem, Severity, Span, unusable
from advisor.model.vocabulary import Vocabulary
from advisor.tankfiles.checks import NOT_UNDERSTOOD
from advisor.tankfiles.entries import Reading, slug
from advisor.tankfiles.folder import read_tank_text
from advisor.tankfiles.ledger import Ledger
from advisor.tankfiles.nodes import UNKNOWN
from advisor.tankfiles.pasted import PastedCoral, parse_coral_line, parse_coral_list, told_of
from advisor.tankfiles.places import is_place_word
from advisor.tankfiles.sources import TANK_FILE
from advisor.tankfiles.splice import flow_text
from advisor.tankfiles.store import locked, write_atomically


@dataclass(frozen=True, slots=True)
class Question:
    """One plain question; any may be left open."""

    key: str
    text: str
    example: str
    """What stands in the starter, as a comment, while the answer is open."""
    remark: str = ""


QUESTIONS: tuple[Question, ...] = (
    Question("name", "What is the tank called?", "my tank"),
    Question(
        "glass",
        "How large is it inside, length x width x height? (120 x 60 x 50 cm)",
        "120 x 60 x 50 cm",
        "inside: length, front to back, height",
    ),
    Question("started", "When was it started? (2024-05-01, or how old: 2 years)", "2024-05-01"),
    Question("flow", "Which way does the water go along the length? (left to right)", "left to right"),
    Question("pattern", "Do the pumps run steady, alternating, random or pulsing?", "random"),
    Question("photoperiod", "For how many hours a day are the lights at full? (9 hours)", "9 hours"),
    Question("pump guards", "Are all pump intakes guarded? (yes, no)", "yes"),
    Question(
        "water",
        "Your last water test, with its date? (2026-10-30: alkalinity 8.2 dKH, temperature 25 °C)",
        "{on: 2026-10-30, alkalinity: 8.2 dKH, temperature: 25 °C}",
    ),
    Question(
        "spots",
        "Which places could a coral stand on? (ledge: left, back, high, 120 PAR; shelf: right, front, low)",
        "",
    ),
    Question("living", "What lives there already, and where? (hammer on ledge; zoanthid on shelf)", ""),
)
"""At most ten; the keys are those `new_tank` takes answers by."""

_LIGHT_WORDS = frozenset(["dark", "shade", "dim", "bright", "low", "medium", "moderate", "high"]) | {
    "very low",
    "very dim",
    "very high",
    "very bright",
    "low to medium",
    "medium to high",
}
"""Words of a place that are taken for its light where they cannot be its height."""

_THIRDS = (
    ("left-low", "left, low"),
    ("left-high", "left, high"),
    ("middle-low", "middle, middle, low"),
    ("middle-high", "middle, middle, high"),
    ("right-low", "right, low"),
    ("right-high", "right, high"),
)


@dataclass(slots=True)
class _Draft:
    """The lines of a tank.yaml to be, each with the question it answers."""

    lines: list[str]
    asked: list[str]
    plainer: list[str]
    """For each line what may stand instead where it cannot be understood; empty for nothing."""

    def add(self, line: str, key: str = "", plainer: str = "") -> None:
        self.lines.append(line)
        self.asked.append(key)
        self.plainer.append(plainer)

    def set_aside(self, at: int) -> None:
        """Turn a line that is not understood into a remark, its plainer form below it."""
        line, plainer = self.lines[at], self.plainer[at]
        indent = line[: len(line) - len(line.lstrip())]
        shown = "".join(mark if mark.isprintable() else " " for mark in line.strip().removeprefix("- "))
        self.lines[at] = f"{indent}{NOT_UNDERSTOOD}{shown}"
        if plainer:
            self.lines.insert(at + 1, plainer)
            self.asked.insert(at + 1, self.asked[at])
            self.plainer.insert(at + 1, "")
        self.asked[at] = self.plainer[at] = ""

    @property
    def text(self) -> str:
        return "\n".join(self.lines) + "\n"


def tank_questions() -> tuple[tuple[str, str], ...]:
    """Return the keys and texts of the questions, in the order to ask them."""
    return tuple((question.key, question.text) for question in QUESTIONS)


def list_remarks(corals: str) -> tuple[str, ...]:
    """Return what of a pasted list was read otherwise than it is written, and what went into a note."""
    told: list[str] = []
    for coral in parse_coral_list(corals, Ledger()):
        told += [f"{coral.called}: {each}" for each in coral.remarks]
        if coral.note:
            told.append(f"{coral.called}: '{coral.note}' is kept as a note, and no rule reads it")
    return tuple(told)


def new_tank(folder: Path, vocabulary: Vocabulary, answers: Mapping[str, str], corals: str) -> Path:
    """Make a tank folder and return the path of its tank.yaml.

    Parameters
    ----------
    folder
        Made where it is not there yet.
    vocabulary
        What the answers are checked against.
    answers
        Texts by the keys of `QUESTIONS`; one that is missing or says "don't know" leaves a
        commented line to fill in, and one that is not understood stands as a remark that says so.
    corals
        A pasted list, one a line: ``torch, 8 cm, 110 PAR``. They wait for a place.

    Raises
    ------
    UnusableInput
        If there is a tank already; nothing is written then.
    """
    if (folder / TANK_FILE).exists() or folder.is_file():
        raise unusable(
            (
                Problem(
                    "file-108",
                    f"there is a tank in {folder} already",
                    Span(str(folder / TANK_FILE)),
                    mend="choose another name, or change it with advisor tank add",
                ),
            )
        )
    ledger = Ledger()
    draft = _draft_tank(answers, parse_coral_list(corals, ledger, "your list of corals"))
    for problem in ledger.problems:
        line = problem.span.text if problem.span is not None else ""
        draft.add(f"  {NOT_UNDERSTOOD}{re.sub(r'[^ -~]', ' ', line).strip()}")
    _set_aside_faults(draft, folder, vocabulary, answers)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with locked(folder):
            write_atomically(folder, TANK_FILE, draft.text)
    except OSError as fault:
        raise unusable(
            (
                Problem(
                    "file-101",
                    f"{folder} cannot be written to: {fault.strerror}",
                    mend="choose another folder",
                ),
            )
        ) from fault
    return folder / TANK_FILE


def _set_aside_faults(
    draft: _Draft, folder: Path, vocabulary: Vocabulary, answers: Mapping[str, str]
) -> None:
    """Turn the lines that cannot be used into remarks until the tank is sound."""
    while True:
        _, problems = read_tank_text(folder, draft.text, Reading(vocabulary, Ledger()), pending=False)
        errors = [p for p in problems if p.severity is Severity.ERROR]
        told = {p.span.line - 1 for p in errors if p.span is not None and p.span.file == TANK_FILE}
        faulty = [at for at in sorted(told, reverse=True) if at < len(draft.asked) and draft.asked[at]]
        if not errors:
            return
        if not faulty:
            raise unusable(tuple(_of_answer(p, draft, answers) for p in errors))
        for at in faulty:
            draft.set_aside(at)


def _of_answer(problem: Problem, draft: _Draft, answers: Mapping[str, str]) -> Problem:
    if problem.span is None or problem.span.line > len(draft.asked):
        return problem
    key = draft.asked[problem.span.line - 1]
    text = answers.get(key, "") or problem.span.text
    name = f"your answer about {key}" if key in answers else "your list of corals"
    return replace(problem, span=Span(name, 1, 1, 1, len(text) + 1, text), related=())


def _draft_tank(answers: Mapping[str, str], pasted: tuple[PastedCoral, ...]) -> _Draft:
    """The tank.yaml that answers and a list make, open answers as commented lines."""
    told = {
        key: text.strip()
        for key, text in answers.items()
        if text.strip() and text.strip().lower() not in UNKNOWN
    }
    draft = _Draft([], [], [])
    draft.add("# What is now. Fill in what you know; leave out the rest: not knowing is an answer, too.")
    draft.add("# `advisor schema tank` lists everything that can be said here.")
    for question in QUESTIONS[:7]:
        _add_answer(draft, question, told)
    _add_water(draft, told)
    _add_spots(draft, told)
    _add_corals(draft, told, pasted)
    return draft


def _add_answer(draft: _Draft, question: Question, told: Mapping[str, str]) -> None:
    key, text = question.key, told.get(question.key, "")
    remark = f"    # {question.remark}" if question.remark else ""
    if key == "flow":
        _add_flow(draft, told)
    elif key == "pattern":
        return
    elif not text:
        draft.add(f"# {key}: {question.example}{remark}")
    elif key == "started" and not re.match(r"\d{4}-", text):
        draft.add(f"age: {flow_text(text)}", key)
    else:
        draft.add(f"{key}: {flow_text(text)}{remark}", key)


def _add_flow(draft: _Draft, told: Mapping[str, str]) -> None:
    if "flow" not in told and "pattern" not in told:
        draft.add("# flow: {direction: left to right, pattern: random}")
        return
    draft.add("flow:")
    for key, name in (("flow", "direction"), ("pattern", "pattern")):
        if key in told:
            draft.add(f"  {name}: {flow_text(told[key])}", key)
        else:
            draft.add(f"  # {name}: …")


def _add_water(draft: _Draft, told: Mapping[str, str]) -> None:
    draft.add("")
    text = told.get("water", "")
    if not text:
        draft.add(f"# water: {QUESTIONS[7].example}")
        return
    entry: dict[str, str] = {}
    day = re.match(r"\s*(\d{4}-\d{2}-\d{2})\s*[:,]?\s*", text)
    if day is not None:
        entry["on"], text = day.group(1), text[day.end() :]
    for part in (p for p in re.split(r"\s*[,;]\s*", text) if p):
        named = re.match(r"([A-Za-z][A-Za-z0-9-]*)\s*[:=]?\s*(.*)$", part)
        entry[named.group(1) if named else part] = named.group(2) if named else ""
    draft.add(f"water: {flow_text(entry)}", "water")


def _add_spots(draft: _Draft, told: Mapping[str, str]) -> None:
    draft.add("")
    draft.add(
        "# Where a coral could stand. Say of each what you know: light (120 PAR, medium, unknown), flow,"
    )
    draft.add("# rock, faces, shelter, gaps: {hammer-1: 30 cm}, nothing else within: 20 cm …")
    places = [p.strip() for p in re.split(r"\s*[;\n]\s*", told.get("spots", "")) if p.strip()]
    if not places:
        draft.add("# These six stand for the thirds of any tank: rename them, and delete what is not there.")
    draft.add("spots:")
    for identity, words in () if places else _THIRDS:
        draft.add(f"  - {flow_text({'id': identity, 'place': words})}")
    for place in places:
        entry = _spot_entry(place)
        bare = {key: text for key, text in entry.items() if key in ("id", "name")}
        draft.add(f"  - {flow_text(entry)}", "spots", f"  - {flow_text(bare)}" if bare != entry else "")


def _spot_entry(text: str) -> dict[str, str]:
    """`left ledge: left, back, high, 120 PAR, medium flow` as the keys of a spot."""
    name, colon, rest = text.partition(":")
    parts = [p.strip() for p in (rest if colon else name).split(",") if p.strip()]
    if not colon:
        name = parts.pop(0) if len(parts) > 1 else text
    entry = {"id": slug(name) or "spot", "name": name.strip()}
    words: list[str] = []
    for part in parts if colon or parts[:1] != [text] else []:
        coral = parse_coral_line(f"x, {part}")
        if coral.comes_from or coral.light_word:
            entry["light"] = coral.comes_from or coral.light_word
        elif coral.flow_word or re.search(r"cm/s", part):
            entry["flow"] = coral.flow_word or part
        elif is_place_word(part, words):
            words.append(part)
        else:
            entry.setdefault(
                "light" if part.lower() in _LIGHT_WORDS and "light" not in entry else "flow", part
            )
    if words:
        entry["place"] = ", ".join(words)
    if entry["name"] == entry["id"]:
        del entry["name"]
    return entry


def _add_corals(draft: _Draft, told: Mapping[str, str], pasted: tuple[PastedCoral, ...]) -> None:
    draft.add("")
    draft.add("# Corals, clams and anemones. One with a spot stands there; one without waits for a place.")
    living = [p.strip() for p in re.split(r"\s*[;\n]\s*", told.get("living", "")) if p.strip()]
    if not living and not pasted:
        draft.add("corals:")
        draft.add("#   - {id: torch-1, is: torch, size: 8 cm, comes from: 110 PAR}")
        return
    draft.add("corals:")
    taken: set[str] = set()
    for text in living:
        entry = _living_entry(text, taken)
        draft.add(f"  - {flow_text(entry)}", "living", _bare_coral(entry))
    for coral in pasted:
        for _ in range(coral.copies):
            entry = coral_entry(coral, taken)
            draft.add(f"  - {flow_text(entry)}", "corals", _bare_coral(entry))


def _bare_coral(entry: Mapping[str, object]) -> str:
    bare = {key: text for key, text in entry.items() if key in ("id", "is", "phase")}
    return f"  - {flow_text(bare)}" if bare != dict(entry) else ""


def _living_entry(text: str, taken: set[str]) -> dict[str, object]:
    stands = re.match(r"(.+?)\s+(?:on|at|in)\s+(?:the\s+)?(.+)$", text)
    entry = coral_entry(parse_coral_line(stands.group(1) if stands else text), taken)
    if stands is not None:
        place = stands.group(2).split(",")[0]
        entry["spot"] = slug(place)
    return {**entry, "phase": "placed"}


def coral_entry(coral: PastedCoral, taken: set[str]) -> dict[str, object]:
    """Return the keys of one pasted coral, its id made and kept in `taken`."""
    base, number = slug(coral.called) or "coral", 1
    while f"{base}-{number}" in taken:
        number += 1
    taken.add(f"{base}-{number}")
    return {"id": f"{base}-{number}", **told_of(coral)}
