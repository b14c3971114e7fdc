"""The verbs that ask: where, why, why-not, audit, card."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from advisor.cli.opening import open_nodes
from advisor.cli.output import Output, write
from advisor.errors import Problem, UnusableInput, unusable

if TYPE_CHECKING:
    from advisor.api import Session
    from advisor.model.results import Answer, AuditAnswer, CardAnswer, WhereAnswer, WhyAnswer

Asked = TypeVar("Asked", bound="Answer")

_FULL_LEVEL = 2
_NO_SPOT = "ask-402"
"""Code of the problem that a coral stands nowhere and no spot was named."""


def where(arguments: argparse.Namespace, out: Output) -> int:
    """Print where each coral should go; 0 only if every one has a sure place."""
    session = open_session(arguments, out)
    corals = arguments.corals or list(session.waiting)
    return places_for(session, corals, out, arguments.open, batch=not arguments.corals, typed=arguments)


def places_for(
    session: Session,
    corals: list[str],
    out: Output,
    nodes: Sequence[str] = (),
    *,
    batch: bool = False,
    typed: argparse.Namespace,
) -> int:
    """Print where each of these corals should go and return the exit code of all of them.

    A `batch` of several is answered in one table; a higher level prints each in full.
    """
    from advisor.reports.batch import batch_page
    from advisor.reports.where import where_page
    from advisor.reports.wording import counted

    if not corals:
        raise unusable(
            (Problem("command-105", "no coral is waiting for a place", mend="name one: where CORAL"),)
        )

    def ask(level: int) -> list[WhereAnswer]:
        with out.busy(f"looking for places for {counted(len(corals), 'coral')}"):
            if batch:
                return session.where_each(corals, level=level)
            return [session.where(coral, level=level) for coral in corals]

    if nodes:
        return 0 if all(map(has_sure_place, open_nodes(out, ask, nodes))) else 1
    answers = [as_typed(answer, typed) for answer in ask(out.level)]
    if batch and len(answers) > 1 and out.level < _FULL_LEVEL and not out.json:
        out.page(batch_page(answers))
    else:
        for answer in answers:
            out.answer(answer, where_page(answer, out.level))
    return 0 if all(map(has_sure_place, answers)) else 1


def why(arguments: argparse.Namespace, out: Output) -> int:
    """Print what decides about a coral at a spot; 0 only for a sure yes."""
    from advisor.reports.why import why_page

    session = open_session(arguments, out)

    def ask(level: int) -> list[WhyAnswer]:
        return [_why(session, arguments.coral, arguments.spot, level)]

    if arguments.open:
        return 0 if all(map(is_sure_yes, open_nodes(out, ask, arguments.open))) else 1
    answer = as_typed(ask(out.level)[0], arguments)
    out.answer(answer, why_page(answer, out.level))
    return 0 if is_sure_yes(answer) else 1


def _why(session: Session, coral: str, spot: str | None, level: int) -> WhyAnswer:
    """The reasons at the spot that is meant; of a coral that stands nowhere, at the best spot for it."""
    try:
        return session.why(coral, spot, level=level)
    except UnusableInput as fault:
        nowhere = spot is None and any(problem.code == _NO_SPOT for problem in fault.problems)
        places = session.where(coral).places if nowhere else ()
        if not places:
            raise
    answer = session.why(coral, places[0].place, level=level)
    note = f"{coral} stands nowhere yet, so this is about its best spot, {places[0].place}"
    return answer.model_copy(update={"notes": (note, *answer.notes)})


def audit(arguments: argparse.Namespace, out: Output) -> int:
    """Print what is wrong in each tank; 0 only if nothing is."""
    from advisor.reports.audit import audit_page

    folders = arguments.folders or [arguments.tank]
    if arguments.open:
        sessions = [open_session(arguments, out, folder) for folder in folders]

        def ask(level: int) -> list[AuditAnswer]:
            return [session.audit(arguments.months, level=level) for session in sessions]

        return 0 if all(map(is_clean, open_nodes(out, ask, arguments.open))) else 1
    clean = True
    for folder in folders:
        answer = open_session(arguments, out, folder).audit(arguments.months, level=out.level)
        answer = as_typed(answer, arguments, folder)
        clean = is_clean(answer) and clean
        out.answer(answer, audit_page(answer, out.level))
    return 0 if clean else 1


def card(arguments: argparse.Namespace, out: Output) -> int:
    """Print the note card of each coral, or write them all to one file; 1 where one that waits has none."""
    from advisor import api

    house = (*api.house_rules(arguments.tank), *arguments.house)
    day = arguments.on or date.today()
    names, ids = _corals_of_cards(arguments, out)
    if not arguments.waiting:
        out.problems(api.house_warnings(rules=arguments.rules, house=house, on=day))
    answers = api.card(
        names, ids=ids, rules=arguments.rules, house=house, on=day,
        folder=arguments.tank, strict=arguments.waiting,
    )  # fmt: skip
    if arguments.to is not None:
        _cards_to_file(answers, arguments, out)
    else:
        _show_cards(answers, arguments, out)
    return 0 if all(answer.card for answer in answers) else 1


def _corals_of_cards(arguments: argparse.Namespace, out: Output) -> tuple[list[str], list[str]]:
    """What is asked for, and what each is called: names typed, then those that wait in the tank."""
    names, ids = list(arguments.corals), list(arguments.corals)
    if arguments.waiting:
        session = open_session(arguments, out)
        names += session.waiting_taxa
        ids += session.waiting
    if not names:
        what = "no coral is waiting for a place" if arguments.waiting else "which coral?"
        raise unusable((Problem("command-105", what, mend="name one: advisor card CORAL"),))
    return names, ids


def _show_cards(answers: list[CardAnswer], arguments: argparse.Namespace, out: Output) -> None:
    from advisor.reports.card import card_page

    if (arguments.html or arguments.md) and not out.json:
        write(out.out, _cards_text(answers, html=arguments.html))
        return
    for answer in answers:
        out.answer(answer, card_page(answer, out.level))


def _cards_text(answers: list[CardAnswer], *, html: bool) -> str:
    """The cards as one page of HTML or Markdown."""
    if html:
        from advisor.reports.notecards import notecards_html

        return notecards_html(answers)
    from advisor.reports.notecards_md import notecards_markdown

    return notecards_markdown(answers)


def _cards_to_file(answers: list[CardAnswer], arguments: argparse.Namespace, out: Output) -> None:
    """Write the cards, as a whole or not at all; the ending of the file tells the form that is not told."""
    from advisor.reports.as_json import document_json
    from advisor.reports.page import Tone, line
    from advisor.reports.wording import counted
    from advisor.tankfiles.store import write_atomically

    target: Path = arguments.to
    html = arguments.html or (not arguments.md and target.suffix.lower() in (".html", ".htm"))
    if not target.parent.is_dir():
        fault = Problem(
            "files-100", f"'{target}': there is no folder '{target.parent}'", mend="make it first"
        )
        raise unusable((fault,))
    write_atomically(target.parent, target.name, _cards_text(answers, html=html))
    told = f"{counted(len(answers), 'card')} written to {target}."
    hint = " Open it in a browser and print it; the cards are to be cut apart." if html else ""
    content = document_json(
        "card", {"file": str(target), "cards": [answer.card or answer.title for answer in answers]}
    )
    out.document(content, (line(told + hint, Tone.GOOD),))


COMMANDS: dict[str, Callable[[argparse.Namespace, Output], int]] = {
    "where": where,
    "why": why,
    "why-not": why,
    "audit": audit,
    "card": card,
}


def open_session(arguments: argparse.Namespace, out: Output, folder: Path | None = None) -> Session:
    """Open the tank that is meant, print its warnings, and return it.

    Raises
    ------
    UnusableInput
        If there is no tank here, or its files cannot be used.
    """
    wanted = folder or arguments.tank or nearest_tank(Path.cwd())
    if wanted is None:
        raise UnusableInput("no tank", (no_tank_here(),))
    from advisor import api

    session = api.open_tank(
        wanted,
        on=arguments.on or date.today(),
        house=tuple(arguments.house),
        rules=arguments.rules,
        horizon_months=getattr(arguments, "months", None),
    )
    out.problems(session.problems)
    return session


def as_typed(answer: Asked, arguments: argparse.Namespace, folder: Path | None = None) -> Asked:
    """Return an answer whose commands carry the tank, the day and the files that were given.

    What is told to a tank carries the tank and the day alone: it asks no rule.
    """
    told = given_options(arguments, folder, ("tank", "on"))
    needs = (
        need.model_copy(update={"command": f"{need.command} {told}".rstrip()}) if need.command else need
        for need in getattr(answer, "needs", ())
    )
    update: dict[str, object] = {"given": given_options(arguments, folder)}
    if hasattr(answer, "needs"):
        update["needs"] = tuple(needs)
    return answer.model_copy(update=update)


def given_options(
    arguments: argparse.Namespace,
    folder: Path | None = None,
    options: Sequence[str] = ("tank", "on", "house", "rules"),
) -> str:
    """Return options as they were typed; a `folder` that was named without --tank goes by it."""
    typed: dict[str, Sequence[object]] = {
        "tank": [each for each in (folder or arguments.tank,) if each],
        "on": [arguments.on] if arguments.on else [],
        "house": arguments.house,
        "rules": [arguments.rules] if arguments.rules else [],
    }
    return " ".join(f"--{name} {shlex.quote(str(each))}" for name in options for each in typed[name])


def nearest_tank(folder: Path) -> Path | None:
    """Return this folder or the nearest above it that has a tank.yaml."""
    return next((each for each in (folder, *folder.parents) if (each / "tank.yaml").is_file()), None)


def no_tank_here() -> Problem:
    """Return the problem of being outside every tank."""
    return Problem(
        "tank-100", "there is no tank.yaml here, nor in any folder above", mend="advisor tank new my-tank"
    )


def is_sure_yes(answer: WhyAnswer) -> bool:
    """Return whether the coral may stand there, surely, in a tank whose water is in order."""
    from advisor.reports.rows import SURE

    return answer.place.word in SURE and not _gate_open(answer)


def has_sure_place(answer: WhereAnswer) -> bool:
    """Return whether one place at least is a sure yes, in a tank whose water is in order."""
    from advisor.reports.rows import SURE

    return any(place.word in SURE for place in answer.places) and not _gate_open(answer)


def is_clean(answer: AuditAnswer) -> bool:
    """Return whether nothing is wrong, now or later."""
    return not answer.now and not answer.later and not _gate_open(answer)


def _gate_open(answer: Answer) -> bool:
    from advisor.model.results import Verdict

    shut = (Verdict.FAILS, Verdict.UNDECIDED)
    return any(gate.verdict in shut for gate in answer.gates)
