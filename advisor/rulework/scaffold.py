"""A first draft of a rule or a card, sound as it stands, put into the right file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.errors import Problem, Severity, Span, unusable
from advisor.session.opening import as_typed, library_in_force, usable
from advisor.units import from_base

if TYPE_CHECKING:
    from advisor.language.library import Library
    from advisor.language.nodes import Binder
    from advisor.model.vocabulary import Measure

OWN_FILE = "own.rules"
"""Where things of one's own go in a tank's folder."""
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_STEPS = 20
"""How many steps of its measure above the least possible the number of a draft lies."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What was written, and where."""

    name: str
    file: Path
    text: str
    line: int
    """The line of the file it begins on."""


def own_rules(folder: Path | None) -> Path:
    """Return the file for things of one's own in a tank's folder: the one given, or the nearest.

    Raises
    ------
    UnusableInput
        If there is no tank's folder.
    """
    from advisor.tankfiles.sources import find_tank_folder

    tank = folder if folder is not None else find_tank_folder(Path.cwd())
    if tank is None:
        what = "this is no tank's folder, so say which file to write to"
        raise unusable((Problem("command-101", what, mend=f"--to {OWN_FILE}"),))
    return as_typed(tank) / OWN_FILE


def new_rule(name: str, about: str, to: Path, *, house: Sequence[Path], rules: Path | None = None) -> Draft:
    """Write the draft of a rule with an example each way to the end of a file.

    Parameters
    ----------
    about
        Whom it is about, as after ``for``: ``coral c, neighbour n of c``.
    to
        The file; made if it is not there.
    house
        The keeper's rule files now in force.

    Raises
    ------
    UnusableInput
        If the name is taken or none, or `about` cannot be read; nothing is written then.
    """
    library = _library(house, rules)
    _require_free(name, library)
    binders = _binders(about)
    subject, measure = _measured(binders, library, about)
    draft = _rule_text(name, about, binders, subject, measure)
    return _written(name, draft, to, house, rules)


def new_card(
    name: str,
    title: str,
    taxon: str,
    group: str,
    to: Path,
    *,
    house: Sequence[Path],
    rules: Path | None = None,
) -> Draft:
    """Write the draft of a card to the end of a file: every line that a card may have, as a comment.

    Raises
    ------
    UnusableInput
        If the name is taken, or the group is none; nothing is written then.
    """
    library = _library(house, rules)
    _require_free(name, library)
    known = getattr(library.vocabulary.measures["group"].type, "words", ())
    for option, told in (("title", title), ("taxon", taxon)):
        if '"' in told:
            what = f"--{option} is written between quotes in the file, so it cannot hold any"
            quiet = told.replace('"', "'")
            raise unusable((Problem("command-111", what, mend=f'--{option} "{quiet}"'),))
    if not taxon.strip():
        what = "a card needs the scientific name of its animal"
        raise unusable((Problem("command-111", what, mend='--taxon "Platygyra lamellina"'),))
    if group not in known:
        what = f"'{group}' is no group of animals"
        raise unusable((Problem("command-111", what, mend=f"--group with one of: {', '.join(known)}"),))
    return _written(name, _card_text(name, title, taxon, group, library), to, house, rules)


def require_target(to: Path, tank: Path | None, house: Sequence[Path]) -> None:
    """Refuse a file that a draft cannot go to, or where nothing would ever read it.

    Parameters
    ----------
    tank
        The tank's folder: the one given; None for the nearest, if there is one.
    house
        Files that are laid over the rules in any case.

    Raises
    ------
    UnusableInput
        If it is a folder, no rule file, in a folder that is not there, or out of the tank's folder.
    """
    from advisor.tankfiles.sources import find_tank_folder

    place = tank if tank is not None else find_tank_folder(Path.cwd())
    read = {path.resolve() for path in house}
    what, mend = "", f"--to {OWN_FILE}"
    if to.is_dir():
        what, mend = f"'{to}' is a folder, and a draft goes into a file", f"--to {to / OWN_FILE}"
    elif to.suffix != ".rules":
        what = f"'{to}' is no rule file: their names end in .rules"
    elif not to.parent.is_dir():
        what = f"there is no folder '{to.parent}'"
    elif place is not None and to.resolve().parent != place.resolve() and to.resolve() not in read:
        what = f"'{to}' lies outside the tank's folder, where no answer would ever read it"
    if what:
        raise unusable((Problem("command-111", what, mend=mend),))


def _library(house: Sequence[Path], rules: Path | None) -> Library:
    return usable(*library_in_force(rules, house))


def _require_free(name: str, library: Library) -> None:
    """Refuse what is no name, and one that something has already."""
    if not _NAME.fullmatch(name):
        what = f"'{name}' is no name: small letters, digits and hyphens"
        near = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
        raise unusable((Problem("command-111", what, mend=near or "my-rule"),))
    tables = (library.rules, library.prefers, library.cards, library.lets, library.defines)
    for table in tables:
        taken = table.get(name)
        if taken is not None:
            what = f"'{name}' is the name of something already"
            raise unusable((Problem("command-112", what, taken.span, "here", f"{name}-of-mine"),))


def _binders(about: str) -> tuple[Binder, ...]:
    """Read whom a rule is about."""
    from advisor.language.nodes import Rule
    from advisor.language.parse import parse_file

    text = f'edition 1\n\nrule draft\n  for {about}\n  expect yes\n  level advice\n  because "x"\n'
    tree, problems = parse_file("--about", text)
    rule = next((item for item in tree.declarations if isinstance(item, Rule)), None)
    if rule is None or any(problem.severity is Severity.ERROR for problem in problems):
        what = f"I cannot read whom the rule is about: '{about}'"
        raise unusable((Problem("command-111", what, mend='--about "coral c, neighbour n of c"'),))
    return rule.binders


def _measured(binders: Sequence[Binder], library: Library, about: str) -> tuple[str, Measure]:
    """What the draft asks about: a quantity of all things bound, or else of one; a keeper's first."""
    for told_by_keeper in (True, False):
        for some in (tuple(binders), *((binder,) for binder in binders)):
            found = _quantity(some, library, told_by_keeper)
            if found is not None:
                return _asked(some, found, library)
    kinds = sorted({measure.params[0].kind.value for measure in library.vocabulary.measures.values()})
    what = f"there is no quantity of '{about}' that a rule could ask for"
    label = f"there are some of: {', '.join(kinds)}"
    raise unusable((Problem("command-111", what, label=label, mend='--about "animal a"'),))


def _quantity(binders: Sequence[Binder], library: Library, told_by_keeper: bool) -> Measure | None:
    """The first quantity of some things together, if there is one."""
    from advisor.model.vocabulary import NumberType, Supplier

    kinds = [binder.kind for binder in binders]
    fitting = (
        measure
        for measure in library.vocabulary.measures.values()
        if isinstance(measure.type, NumberType)
        and (Supplier.KEEPER in measure.suppliers or not told_by_keeper)
        and len(measure.params) == len(kinds)
        and all(kind.fits(param.kind) for kind, param in zip(kinds, measure.params, strict=True))
    )
    return next(fitting, None)


def _asked(binders: Sequence[Binder], found: Measure, library: Library) -> tuple[str, Measure]:
    """A quantity as a rule asks for it; of an animal alone its light, which everybody has a feeling for."""
    names = ", ".join(binder.name or "tank" for binder in binders)
    light = library.vocabulary.measures.get("light")
    if len(binders) == 1 and found.params[0].kind.value == "animal" and light is not None:
        return f"light({names}.spot)", light
    return f"{found.name}({names})", found


def _rule_text(name: str, about: str, binders: Sequence[Binder], subject: str, measure: Measure) -> str:
    """The text of a rule that asks for at least so much of one quantity."""
    least = measure.low + _STEPS * measure.step
    enough, little = (
        _amount(measure.low + 2 * (least - measure.low), measure),
        _amount(measure.low + (least - measure.low) / 4, measure),
    )
    things = [binder.name for binder in binders if binder.kind.value != "tank"]
    each = ", ".join(f"{{{thing}}}" for thing in things) or "the tank"
    given, then = _cast(binders), ", ".join(f"{thing}-1" for thing in things) or "tank"
    cell = re.sub(r"(?<=[(, ])([a-z]+)(?=[,.)])", lambda part: _as_cast(part.group(1), things), subject)
    return f"""\
rule {name}
  for      {about}
  expect   {subject} >= {name}-least
  level    advice
  because  "{measure.name.replace("-", " ")} of {each} is {{{subject}}}"
  matters  "write here why it matters"
  remedy   "write here what usually helps"
  source   "own tank" kind experience

let {name}-least = {_amount(least, measure)}
  because "write here where this number comes from"

example "enough" for {name}
  given {given}{cell} = {enough}
  then  {then} holds

example "too little" for {name}
  given {given}{cell} = {little}
  then  {then} fails
"""


def _as_cast(word: str, things: Sequence[str]) -> str:
    """The name a bound thing has in the examples."""
    return f"{word}-1" if word in things else word


def _cast(binders: Sequence[Binder]) -> str:
    """The things of an example, one a line, ready for what is told of them."""
    lines = []
    for binder in binders:
        if binder.kind.value == "tank":
            continue
        kind = "animal" if binder.neighbour_of else binder.kind.value
        lines.append(f"{binder.name}-1 is {kind}" + (f" of {binder.weapon_of}-1" if binder.weapon_of else ""))
    return "".join(f"{line}\n        " for line in lines)


def _amount(base: float, measure: Measure) -> str:
    """A quantity as it is written."""
    unit = getattr(measure.type, "unit", None)
    if unit is None:
        return f"{base:g}"
    return f"{from_base(base, unit):g} {unit.name}".strip()


def _card_text(name: str, title: str, taxon: str, group: str, library: Library) -> str:
    """The text of a card with nothing on it yet."""
    from advisor.rulework.blank_card import card_comments

    genus = re.sub(r"[^a-z0-9]+", "-", taxon.split()[0].lower()).strip("-") or name
    told = "\n".join(f"  {line}" for line in card_comments(library.vocabulary))
    return f"""\
card {name} "{title}"
  taxon       "{taxon}"
  genus       {genus}  group {group}

  # Take the # away from a line once you know it, put what you know for each … and leave out
  # the rest. A line may end with its own: source "who says so" kind study, maker, experience or guess
{told}

  source "own notes" kind guess
"""


def _written(name: str, draft: str, to: Path, house: Sequence[Path], rules: Path | None) -> Draft:
    """Add the draft to its file, if the file is sound with it."""
    from advisor.tankfiles.store import write_atomically

    before, draft = _stored(to), _in_form(draft)
    text = f"{before.rstrip()}\n\n{draft}" if before.strip() else f"edition 1\n\n{draft}"
    faults = _faults(to, text, house, rules)
    if faults:
        raise unusable(faults)
    to.parent.mkdir(parents=True, exist_ok=True)
    write_atomically(to.parent.resolve(), to.name, text)
    return Draft(name, to, draft, len(text.splitlines()) - len(draft.splitlines()) + 1)


def _in_form(draft: str) -> str:
    """The draft as the formatter prints it."""
    from advisor.rulework.formatting import format_text

    head = "edition 1\n\n"
    return format_text("draft", head + draft).text.removeprefix(head)


def _stored(to: Path) -> str:
    """The text of a file, empty where there is none."""
    from advisor.knowledge.load import read_house

    if not to.exists():
        return ""
    texts, problems = read_house((to,))
    if problems:
        raise unusable(problems)
    return texts[0][1]


def _faults(to: Path, text: str, house: Sequence[Path], rules: Path | None) -> tuple[Problem, ...]:
    """What would be wrong with the file as it would be, if anything."""
    from advisor.knowledge.load import load_library, read_house
    from advisor.reasoning.survey import COMPUTED

    others = tuple(path for path in house if path.resolve() != to.resolve())
    texts, _ = read_house(others)
    name = to.as_posix()
    _, problems = load_library(rules, (*texts, (name, text)), None, computed=COMPUTED)
    here = [problem for problem in problems if (problem.span or Span("")).file == name]
    return tuple(problem for problem in here if problem.severity is Severity.ERROR)
