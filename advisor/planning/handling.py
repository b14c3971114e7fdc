"""The handling sheet of a coral: refusals first, then what must be at hand, then how it is done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from advisor.knowledge.actions import Understood, understood
from advisor.knowledge.cardlines import words_of
from advisor.knowledge.cards import cautions
from advisor.language.nodes import Action, Card, Handling, HandlingKind, HandlingLine
from advisor.language.phrases import says_also
from advisor.model.handling import HandlingAnswer, HandlingStep
from advisor.model.results import Caution


@dataclass(frozen=True, slots=True)
class Held:
    """The coral somebody has in hand, as far as it is known which."""

    asked: str
    cards: tuple[Card, ...]
    """Every card it may have; none where nobody can say what it is."""
    known_as: str = ""
    doubts: tuple[Card, ...] = ()
    """Further cards that parts of its name speak of."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """The sheets in force and the actions they speak of."""

    sheets: Mapping[str, Handling]
    actions: Mapping[str, Action]
    own: frozenset[str] = frozenset()
    """Names of those sheets that come from the keeper's own files."""


def handling_answer(held: Held, known: Sheets, doing: str = "") -> HandlingAnswer:
    """Return how to handle a coral: the whole sheet, or what is told of what somebody is about to do.

    Parameters
    ----------
    held
        The coral; where it may be several, what is strictest of all counts.
    known
        Sheets and actions.
    doing
        What somebody is about to do, in their words; empty for the whole sheet.
    """
    lines = _lines_for(held, known)
    heard = understood(doing, known.actions) if doing else Understood(())
    wanted = heard.actions or tuple(known.actions)
    nevers = [each for each in lines if each.line.kind is HandlingKind.NEVER]
    no = {name for each in nevers for name in each.line.actions}
    forbidden = _by_any_name(no, known)
    hushed = {one for one, other in heard.shared if other in no}
    refused = [each for each in nevers if heard.actions and set(each.line.actions) & set(heard.actions)]
    told = (set(wanted) | {name for each in refused for name in each.line.instead_by}) - forbidden
    every = not heard.actions or bool(heard.unread)
    general = [each for each in nevers if each not in refused and (every or not each.anything)]
    return HandlingAnswer(
        asked=held.asked,
        title=_title(held),
        cards=tuple(card.name for card in held.cards),
        known_as=held.known_as,
        stricter=_stricter(held, known),
        cautions=_cautions(held),
        doing=doing,
        about_to=tuple(known.actions[name].title for name in heard.actions),
        read_as=tuple(f"'{word}' was read as '{meant}'" for word, meant in heard.read_as),
        not_read=heard.unread if heard.actions else (),
        not_recognised=bool(doing) and not heard.actions,
        refused=_steps(refused, known),
        never=_steps(general, known),
        first=_steps(_of_kind(lines, HandlingKind.WAIT, told), known),
        ways=_steps(_ways(lines, told, hushed, known), known),
        signs=_steps(_of_kind(lines, HandlingKind.SIGN, told | set(wanted)), known),
        helps=_steps(_of_kind(lines, HandlingKind.HELP, told | set(wanted)), known),
        defers=_steps(_of_kind(lines, HandlingKind.DEFER, told | set(wanted)), known),
        more=(f"handle {held.asked}",) if heard.actions else (),
    )


def _by_any_name(nevers: set[str], known: Sheets) -> set[str]:
    """Actions that must not be done, and those that go by words of one of them."""
    told = [known.actions[name] for name in nevers if name in known.actions]
    return nevers | {
        name for name, each in known.actions.items() if any(says_also(each, other) for other in told)
    }


@dataclass(frozen=True, slots=True)
class _Told:
    """A line with the sheet it stands on; of an action, without those it is not told of here."""

    line: HandlingLine
    sheet: Handling
    actions: tuple[str, ...]

    @property
    def anything(self) -> bool:
        """Whether it is told of any animal."""
        return self.sheet.anything


def _lines_for(held: Held, known: Sheets) -> list[_Told]:
    """Every line that counts for a coral, those of its own hazards before those of any animal."""
    hazards, groups = _traits((*held.cards, *held.doubts))
    lost = not held.cards
    chosen = [
        sheet
        for sheet in known.sheets.values()
        if sheet.anything
        or hazards & set(sheet.hazards)
        or groups & set(sheet.groups)
        or (lost and sheet.unknown)
    ]
    chosen.sort(key=lambda sheet: sheet.anything)
    return [_Told(line, sheet, line.actions) for sheet in chosen for line in sheet.lines]


def _traits(cards: Iterable[Card]) -> tuple[set[str], set[str]]:
    """The hazards and the groups of some cards."""
    values = [value for card in cards for value in card.values]
    hazards = {word for value in values if value.key == "hazard" for word in words_of(value)}
    groups = {word for value in values if value.key == "group" for word in words_of(value)}
    return hazards, groups


def _of_kind(lines: Sequence[_Told], kind: HandlingKind, of: set[str]) -> list[_Told]:
    """Lines of one kind, told of some actions or of whatever is done; each text once."""
    found: dict[str, _Told] = {}
    for each in lines:
        acts = tuple(name for name in each.line.actions if name in of)
        if each.line.kind is kind and (acts or not each.line.actions):
            found.setdefault(each.line.text, _Told(each.line, each.sheet, acts))
    return list(found.values())


def _ways(lines: Sequence[_Told], told: set[str], hushed: set[str], known: Sheets) -> list[_Told]:
    """How each thing is done; a keeper's own sheet tells nothing that was heard in a forbidden word alone."""
    shipped = _strict_ways([each for each in lines if each.sheet.name not in known.own])
    own = [each for each in lines if each.sheet.name in known.own]
    return [*_of_kind(shipped, HandlingKind.SAFE, told), *_of_kind(own, HandlingKind.SAFE, told - hushed)]


def _strict_ways(lines: Sequence[_Told]) -> list[_Told]:
    """Ways of doing things; one of a sheet that forbids something stands without that of any animal."""
    strict = {each.sheet.name for each in lines if each.line.kind is HandlingKind.NEVER and not each.anything}
    ways = [each for each in lines if each.line.kind is HandlingKind.SAFE]
    alone = {name for each in ways if each.sheet.name in strict for name in each.line.actions}
    kept = []
    for each in ways:
        acts = tuple(name for name in each.line.actions if not (each.anything and name in alone))
        if acts or not each.line.actions:
            kept.append(replace(each, line=replace(each.line, actions=acts)))
    return kept


def _steps(lines: Iterable[_Told], known: Sheets) -> tuple[HandlingStep, ...]:
    return tuple(
        HandlingStep(
            text=each.line.text,
            actions=tuple(known.actions[name].title for name in each.actions if name in known.actions),
            instead=each.line.instead,
            about=each.sheet.title,
            source=each.line.source.text if each.line.source else "",
            grade=each.line.source.grade.value if each.line.source else "",
            own=each.sheet.name in known.own,
        )
        for each in lines
    )


def _title(held: Held) -> str:
    if not held.cards:
        return "nobody can say what this is"
    return held.cards[0].title if len(held.cards) == 1 else f"one of {len(held.cards)} corals"


def _stricter(held: Held, known: Sheets) -> str:
    """Why more is told than of a coral that is surely known."""
    if not held.cards:
        told = [sheet.title for sheet in known.sheets.values() if sheet.unknown]
        return f"No card says what '{held.asked}' is, so the stricter sheet counts: as for {_and(told)}"
    sheets = [_sheet_names((card,), known) for card in (*held.cards, *held.doubts)]
    extra = {name for names in sheets for name in names if any(name not in others for others in sheets)}
    if not extra:
        return ""
    told = [sheet.title for sheet in known.sheets.values() if sheet.name in extra]
    return f"It is not sure which coral '{held.asked}' is, so the strictest counts: also as for {_and(told)}"


def _sheet_names(cards: Iterable[Card], known: Sheets) -> set[str]:
    """The sheets that count for some cards, beside those about anything."""
    hazards, groups = _traits(cards)
    return {
        sheet.name
        for sheet in known.sheets.values()
        if hazards & set(sheet.hazards) or groups & set(sheet.groups)
    }


def _and(words: Sequence[str]) -> str:
    return " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else "".join(words)


def _cautions(held: Held) -> tuple[Caution, ...]:
    """The short cautions of every card it may have, each once."""
    every = [caution for card in (*held.cards, *held.doubts) for caution in cautions(card)]
    return tuple({caution.text: caution for caution in every}.values())
