"""The verbs that make and change a tank folder: tank new, check, add, move."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.cli.output import Output, write
from advisor.cli.questions import nearest_tank, no_tank_here, open_session, places_for
from advisor.errors import Problem, Severity, UnusableInput, unusable

if TYPE_CHECKING:
    from advisor.model.tank import Event
    from advisor.reports.as_json import Json

_OF_A_PLACE = frozenset({"light", "par", "flow", "gap", "size", "height", "depth"})
"""What is read at a spot or a coral; anything else with a number is taken for the water's."""
_LIST_PROMPT = "Your corals, one a line (name, size, light it comes from); an empty line ends the list:"


def new(arguments: argparse.Namespace, out: Output) -> int:
    """Make a tank folder from a few answers and a list, then say where everything on it should go."""
    from advisor import api

    asked = sys.stdin.isatty() and not arguments.yes
    answers = _ask(out, api.tank_questions()) if asked else {}
    answers = {key: _dated(text, _on(arguments)) for key, text in answers.items()}
    corals = _coral_list(arguments, out, asked)
    api.new_tank(arguments.folder, answers, corals)
    made = f"made {arguments.folder}; ask there, or with --tank {arguments.folder}"
    _say(out, "tank new", made, api.list_remarks(corals))
    arguments.tank = arguments.folder
    session = open_session(arguments, out)
    if not session.waiting:
        return 0
    return places_for(session, list(session.waiting), out, batch=True, typed=arguments)


def _ask(out: Output, questions: Sequence[tuple[str, str]]) -> dict[str, str]:
    """Return what was typed to each question; an empty line means not known."""
    write(out.err, "An empty line means: I do not know.\n")
    answers: dict[str, str] = {}
    for key, question in questions:
        write(out.err, f"{question} ")
        typed = sys.stdin.readline().strip()
        if typed:
            answers[key] = typed
    return answers


def _dated(text: str, today: date) -> str:
    """An answer that begins with a day in words, with its date instead."""
    return re.sub(
        r"^(today|yesterday)\b",
        lambda found: str(today - timedelta(days=found.group().lower() == "yesterday")),
        text,
        flags=re.IGNORECASE,
    )


def _coral_list(arguments: argparse.Namespace, out: Output, asked: bool) -> str:
    if arguments.corals is not None:
        return _read_list(arguments.corals)
    if not asked:
        return "" if sys.stdin.isatty() else sys.stdin.read()
    write(out.err, _LIST_PROMPT + "\n")
    lines: list[str] = []
    while typed := sys.stdin.readline().rstrip("\n"):
        lines.append(typed)
    return "\n".join(lines)


def _read_list(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        fault = Problem("files-101", f"'{file}' is not a text file in UTF-8", mend="save it as UTF-8 text")
        raise unusable((fault,)) from None


def check(arguments: argparse.Namespace, out: Output) -> int:
    """Read the folder and print every problem; 2 if it cannot be used, 1 if something is to be looked at."""
    session = open_session(arguments, out)
    inside = session.inside_rocks()
    out.problems(inside)
    found = [each for each in (*session.problems, *inside) if each.severity is not Severity.NOTE]
    verdict = f"{len(found)} to look at" if found else "no fault found"
    _say(out, "tank check", f"{_folder(arguments)}: {verdict}")
    return 1 if found else 0


def add(arguments: argparse.Namespace, out: Output) -> int:
    """Add a coral, a spot or a reading."""
    from advisor import api

    make = {"coral": _add_coral, "spot": _add_spot, "reading": _add_reading}[arguments.thing]
    try:
        event = make(arguments)
    except UnusableInput as fault:
        raise _nothing_written(fault) from fault
    out.problems(api.hardly_possible(_folder(arguments), event))
    how = ""
    if arguments.thing == "coral":
        how, unknown = api.understood_as(_folder(arguments), arguments.name)
        out.problems(unknown)
    return _told(out, event, understood=how)


def _nothing_written(fault: UnusableInput) -> UnusableInput:
    """The same refusal, its last problem saying that the tank is as it was."""
    if not fault.problems:
        return fault
    *others, last = fault.problems
    return unusable((*others, replace(last, what=f"{last.what}; nothing was written")))


def _add_coral(arguments: argparse.Namespace) -> Event:
    from advisor import api

    given = {"size": arguments.size, "origin-light": arguments.light, **dict(arguments.set)}
    facts = {key: value for key, value in given.items() if value}
    return api.add_coral(_folder(arguments), arguments.name, on=_on(arguments), id=arguments.id,
                         spot=arguments.spot, facts=facts)  # fmt: skip


def _add_spot(arguments: argparse.Namespace) -> Event:
    from advisor import api

    light = {"light": arguments.light} if arguments.light else {}
    return api.add_spot(_folder(arguments), arguments.name, on=_on(arguments), at=arguments.at,
                        facts={**light, **dict(arguments.set)})  # fmt: skip


def _add_reading(arguments: argparse.Namespace) -> Event:
    from advisor import api

    if not arguments.value:
        raise unusable((_without_value(arguments.subject, arguments.measure),))
    subjects = tuple(part.strip() for part in arguments.subject.split(","))
    return api.add_reading(_folder(arguments), subjects, arguments.measure, arguments.value,
                           on=_on(arguments), how=arguments.how)  # fmt: skip


def _without_value(first: str, second: str) -> Problem:
    """The problem of a reading told in two words: of what is missing where the second has a number."""
    if not re.search(r"\d", second):
        mend = f'advisor tank add reading {first} {second} "…"'
        return Problem("command-101", "the following arguments are required: VALUE", mend=mend)
    subject = "SPOT" if first.lower() in _OF_A_PLACE else "tank"
    mend = f'advisor tank add reading {subject} {first} "{second}"'
    return Problem("command-101", f"'{first}' of what? A reading begins with a thing, or tank", mend=mend)


def move(arguments: argparse.Namespace, out: Output) -> int:
    """Move a coral to a spot."""
    from advisor import api

    event = api.move(
        _folder(arguments), arguments.coral, arguments.spot, on=_on(arguments), note=arguments.note
    )
    return _told(out, event, api.lapsed_accepts(_folder(arguments), event.subject, on=_on(arguments)))


COMMANDS: dict[str, Callable[[argparse.Namespace, Output], int]] = {
    "new": new,
    "check": check,
    "add": add,
    "move": move,
}


def _folder(arguments: argparse.Namespace) -> Path:
    folder: Path | None = arguments.tank or nearest_tank(Path.cwd())
    if folder is None:
        raise UnusableInput("no tank", (no_tank_here(),))
    return folder


def _on(arguments: argparse.Namespace) -> date:
    day: date | None = arguments.on
    return day or date.today()


def _told(out: Output, event: Event, lapsed: Sequence[str] = (), understood: str = "") -> int:
    from advisor.model.results import EventAnswer
    from advisor.reports.as_json import model_json
    from advisor.reports.page import Tone, labelled
    from advisor.reports.wording import day_text, sentence

    where = f" to {event.spot}" if event.spot else ""
    text = f"{event.subject}{where}, {day_text(event.on)} (journal {event.id})"
    notes = [labelled("NOTE", sentence(each), Tone.OPEN) for each in (understood, *lapsed) if each]
    answer = EventAnswer(event=event, lapsed=tuple(lapsed), understood=understood)
    out.document(model_json(answer), (labelled(event.kind.value, text, Tone.GOOD), *notes))
    return 0


def _say(out: Output, question: str, text: str, remarks: Sequence[str] = ()) -> None:
    from advisor.reports.as_json import document_json
    from advisor.reports.page import Tone, labelled, line
    from advisor.reports.wording import sentence

    content: dict[str, Json] = {"text": text}
    if remarks:
        content["remarks"] = list(remarks)
    notes = [labelled("NOTE", sentence(each), Tone.OPEN) for each in remarks]
    out.document(document_json(question, content), (line(text), *notes))
