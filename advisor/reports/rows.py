"""The rows "here / wanted / how we know" that stand behind every yes and no."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from advisor.model.results import Comfort, Ground, PlaceAnswer, Reason, Step, Value, Verdict, Word
from advisor.reports.figures import figure, margin_text, set_figures, value_text, wanted_text
from advisor.reports.page import Cells, Part, Tone
from advisor.reports.wording import (
    ahead_text,
    grade_text,
    ground_text,
    listed,
    months_text,
    sentence,
    sentences,
)
from advisor.units import format_number

CAPS = (28, 20, 20)
"""Widest the columns label, here and wanted may grow; how we know takes the rest."""

HEADING = Cells(
    (Part(""), Part("here", Tone.QUIET), Part("wanted", Tone.QUIET), Part("how we know", Tone.QUIET))
)

SURE = frozenset({Word.YES, Word.YES_SLOWLY, Word.YES_UNTIL})
"""The answers that promise a place."""

WITH_FAULT = frozenset({Word.YES_BUT, Word.LIKELY_BUT})
"""The answers that go on to say what speaks against a place."""

SAYS_NOTHING = frozenset({"not told", "not measured", "not known", "unknown"})
"""Grounds that only repeat that something is not known."""

_NAMED = 8
_ALIKE = 2
_WEAK = frozenset({"guess", "experience"})
_GRADE_ORDER = {"study": 1, "maker": 2, "experience": 3, "guess": 4}


def word_text(place: PlaceAnswer) -> str:
    """Return the answer for a place, with its date where there is one: ``YES, UNTIL May 2027``."""
    if place.word in WITH_FAULT:
        return f"{place.word.value} {what_is_wrong(place)}".rstrip()
    dates = [each.until for each in place.reasons if each.until is not None and each.level != "advice"]
    if place.word not in (Word.YES_UNTIL, Word.LIKELY_UNTIL) or not dates:
        return place.word.value
    return f"{place.word.value} {months_text(min(dates, key=lambda until: until.earliest))}"


def what_is_wrong(place: PlaceAnswer) -> str:
    """Return in a few words which warning fails or leans to failing: ``too little light, and 2 more``."""
    warned = [each for each in place.reasons if each.level == "warning" and warns_now(each)]
    if not warned:
        return ""
    perhaps = "" if warned[0].verdict is Verdict.FAILS else "perhaps "
    more = f", and {len(warned) - 1} more" if len(warned) > 1 else ""
    return f"{perhaps}{_fault(warned[0])}{more}"


def warns_now(reason: Reason) -> bool:
    """Return whether a reason speaks against a place today: it fails, or is open and leans to failing."""
    leans_no = reason.verdict is Verdict.UNDECIDED and reason.lean == "no"
    return reason.until is None and (reason.verdict is Verdict.FAILS or leans_no)


def _fault(worst: Reason) -> str:
    """What is wrong, in a few words."""
    if worst.quantity.startswith("gap to "):
        return f"too near {worst.quantity.removeprefix('gap to ')}"
    numbers = worst.here is not None and worst.here.unit
    if numbers and (worst.wanted_low is None) != (worst.wanted_high is None):
        return f"too {'little' if worst.wanted_low is not None else 'much'} {worst.quantity}"
    told = value_text(_worth_telling(worst))
    return f"{row_label(worst)} is {told}" if told else f"against it: {row_label(worst)}"


def word_tone(word: Word) -> Tone:
    """Return the tone an answer is printed in."""
    match word:
        case Word.YES | Word.YES_SLOWLY:
            return Tone.GOOD
        case Word.NO:
            return Tone.BAD
        case Word.YES_UNTIL | Word.YES_BUT | Word.NOT_KNOWN:
            return Tone.OPEN
        case Word.LIKELY | Word.LIKELY_UNTIL | Word.LIKELY_BUT:
            return Tone.OPEN


def row_label(reason: Reason) -> str:
    """Return what a row is about: the quantity, else the rule's name as words."""
    return reason.quantity or _rule_words(reason)


def _rule_words(reason: Reason) -> str:
    return reason.rule.replace("-", " ")


def reason_tone(reason: Reason) -> Tone:
    """Return the tone of the number that was found."""
    match reason.verdict:
        case Verdict.FAILS:
            return Tone.BAD
        case Verdict.UNDECIDED:
            return Tone.OPEN
        case _:
            return Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Choice:
    """The reasons worth a row at a glance, and those only worth naming."""

    shown: tuple[Reason, ...]
    named: tuple[Reason, ...]
    alike: Mapping[str, tuple[Reason, ...]] = field(default_factory=dict)
    """By the id of a shown reason without numbers: the others of its rule, which its row tells too."""


def folded(reasons: Iterable[Reason]) -> dict[str, tuple[Reason, ...]]:
    """Return, by the id of its first, the others of each rule that says the same in words of several things.

    The nearest is the first one: reasons come in the order of explanation.
    """
    groups: dict[tuple[str, Verdict, str, bool], list[Reason]] = {}
    for reason in reasons:
        if not _has_numbers(reason):
            key = (reason.rule, reason.verdict, reason.lean, reason.until is None)
            groups.setdefault(key, []).append(reason)
    return {first.id: tuple(others) for first, *others in groups.values() if others}


def _has_numbers(reason: Reason) -> bool:
    """Whether a reason is told by what was found and what is wanted, not by its sentence."""
    limits = reason.wanted_low is not None or reason.wanted_high is not None
    return limits or bool(value_text(_worth_telling(reason), _missing(reason)))


def alike_text(reason: Reason, others: Sequence[Reason]) -> str:
    """Return the sentence of a reason and whom else its rule says it of, the nearest first."""
    shared = set(reason.subjects).intersection(*(each.subjects for each in others))

    def named(each: Reason) -> str:
        return " and ".join(name for name in each.subjects if name not in shared)

    apart = "" if reason.apart_cm is None else f", about {format_number(reason.apart_cm, 2)} cm away"
    near = f" ({named(reason)} is the nearest{apart})" if apart and named(reason) else ""
    names = listed(dict.fromkeys(filter(None, map(named, others))), _ALIKE)
    return sentences((f"{reason.sentence}{near}", f"the same of {names}" if names else ""))


def echo_text(reason: Reason) -> str:
    """Return what else fails of the same things, with the numbers to open it by; empty if nothing does."""
    if not reason.echoes:
        return ""
    number = reason.echoes[0].partition(" ")[0]
    opened = f"; --open {number}" if number != reason.echoes[0] else ""
    return f"and {len(reason.echoes)} more of the same: {listed(dict.fromkeys(reason.echoes))}{opened}"


def deciding(reasons: Sequence[Reason], most: int, *, fold: bool = True) -> Choice:
    """Return what to show at a glance: what fails, open dangers, then the narrowest that hold.

    Nothing that fails, and no warning that leans that way, is left out. One row
    is enough for one quantity, the first in the order of explanation, and for all that one rule says in
    the same words (`fold`). Open questions that cannot refuse the place, and dangers beyond the first few,
    are only named.
    """
    weighty, minor, held = [], [], []
    for reason in reasons:
        match reason.verdict:
            case Verdict.FAILS:
                weighty.append(reason)
            case Verdict.UNDECIDED if reason.level == "danger" or _leans_against(reason):
                weighty.append(reason)
            case Verdict.NOT_COVERED:
                continue
            case Verdict.HOLDS if reason.until is None:
                held.append(reason)
            case _:
                minor.append(reason)
    firsts = _one_each(weighty)  # of one quantity the danger, open or not, before any warning
    alike = folded(firsts) if fold else {}
    told = {each.id for others in alike.values() for each in others}
    firsts = [each for each in firsts if each.id not in told]
    against = [each for each in firsts if each.verdict is Verdict.FAILS or _leans_against(each)]
    still_open = [each for each in firsts if each not in against][: max(0, most - len(against))]
    shown = [each for each in firsts if each in against or each in still_open]
    shown = _one_each([*shown, *held, *minor])[: max(most, len(shown))]
    named = [each for each in (*weighty, *minor) if each not in shown and each.id not in told]
    return Choice(tuple(shown), tuple(named), alike)


def _leans_against(reason: Reason) -> bool:
    """Whether a warning is open and leans to failing: the word for the place counts it."""
    return reason.level == "warning" and reason.verdict is Verdict.UNDECIDED and warns_now(reason)


def _one_each(reasons: Sequence[Reason]) -> list[Reason]:
    """The first reason for each quantity and month."""
    first: dict[tuple[str, int], Reason] = {}
    for reason in reasons:
        first.setdefault((row_label(reason), reason.months_ahead), reason)
    return list(first.values())


def named_text(choice: Choice) -> str:
    """Return what is only named, each once; a quantity that has its row goes by the rule's name."""
    shown = set(map(row_label, choice.shown))
    names = (row_label(each) if row_label(each) not in shown else _rule_words(each) for each in choice.named)
    return listed(dict.fromkeys(names), _NAMED)


def here_texts(reasons: Iterable[Reason]) -> list[str]:
    """Return what was found for each reason, the numbers of all of them under each other."""
    return set_figures(figure(_worth_telling(reason), _missing(reason)) for reason in reasons)


def _worth_telling(reason: Reason) -> Value | None:
    """Return what was found; a bare yes or no tells nothing unless something else was wanted."""
    here = reason.here
    if here is None or reason.wanted_low is not None or reason.wanted_high is not None:
        return here
    bare = here.truth is not None or (not here.known and not here.unit)
    return None if bare else here


def _missing(reason: Reason) -> str:
    unit = reason.here.unit if reason.here is not None else ""
    return "not measured" if unit else "not told"


def grounds_of(reason: Reason) -> tuple[Ground, ...]:
    """Return the grounds of a reason: its own list, else those its steps carry."""
    if reason.grounds or reason.step is None:
        return reason.grounds
    return tuple(dict.fromkeys(_step_grounds(reason.step)))


def _step_grounds(step: Step) -> Iterator[Ground]:
    yield from step.grounds
    for each in step.inputs:
        yield from _step_grounds(each)


def how_text(reason: Reason) -> str:
    """Return where the numbers of a row come from, and what would settle it if it is open."""
    pieces = [ahead_text(reason.months_ahead)] if reason.months_ahead else []
    if reason.here is not None and reason.here.kind == "assumed":
        pieces.append("I reckon with this")
    pieces.extend(_short_grounds(reason))
    if reason.disputed:
        pieces.append("disputed")
    known = "; ".join(dict.fromkeys(pieces))
    asked = _asked(reason) if reason.verdict is Verdict.UNDECIDED else ""
    return f"{known}. {sentence(asked)}" if known and asked else known or asked


def _short_grounds(reason: Reason) -> Iterator[str]:
    for ground in _telling(reason):
        if ground.text in SAYS_NOTHING:
            continue
        weak = ground.grade in _WEAK
        yield ground_text(ground.model_copy(update={"grade": ground.grade if weak else ""}))


def _telling(reason: Reason) -> tuple[Ground, ...]:
    """The ground of what was found, and the weakest of the others."""
    pool = reason.how or tuple(sorted(grounds_of(reason), key=_reading_first))
    others = sorted(pool[1:], key=lambda ground: -_GRADE_ORDER.get(ground.grade, 0))
    return (*pool[:1], *others[:1])


def _reading_first(ground: Ground) -> int:
    """Readings before statements before cards; used where it is not told which ground is whose."""
    return 0 if ground.age_days is not None or ground.on is not None else 2 if ground.grade else 1


def _asked(reason: Reason) -> str:
    if reason.needs:
        return reason.needs[0].ask
    return "too close to call" if reason.cause == "too close" else ""


def best_bands(comforts: Sequence[Comfort]) -> dict[str, str]:
    """Return what an animal likes best, by quantity."""
    return {
        comfort.quantity: band
        for comfort in comforts
        if comfort.quantity and (band := wanted_text(comfort.wanted_low, comfort.wanted_high))
    }


def _wanted(reason: Reason, bands: Mapping[str, str]) -> str:
    """What is wanted: where the requirement holds, the band it likes best, then what it bears."""
    wanted = wanted_text(reason.wanted_low, reason.wanted_high)
    best = (
        bands.get(reason.quantity, "") if reason.verdict is Verdict.HOLDS and not reason.months_ahead else ""
    )
    if not best or best == wanted:
        return wanted
    return f"{best}, bears {wanted}" if wanted else best


def reason_rows(
    reasons: Sequence[Reason],
    indent: int = 4,
    bands: Mapping[str, str] | None = None,
    alike: Mapping[str, Sequence[Reason]] | None = None,
) -> list[Cells]:
    """Return the rows of some reasons; one without numbers is told as a sentence, with those `alike`."""
    rows: list[Cells] = []
    before = ""
    for reason, here in zip(reasons, here_texts(reasons), strict=True):
        name = row_label(reason)
        label = Part(" " * indent + (name if name != before else ""))
        before = name
        wanted = _wanted(reason, bands or {})
        if here.strip() or wanted:
            rows.append(Cells((label, Part(here, reason_tone(reason)), Part(wanted), Part(how_text(reason)))))
        else:
            asked = _asked(reason) if reason.verdict is Verdict.UNDECIDED else ""
            others = (alike or {}).get(reason.id, ())
            told = alike_text(reason, others) if others else reason.sentence
            rows.append(Cells((label, Part(sentences((told, asked)), reason_tone(reason)))))
    return rows


def remark(reason: Reason) -> str:
    """Return what the numbers of a reason amount to: ``8 cm short``, ``too close to call, leans yes``."""
    match reason.verdict:
        case Verdict.FAILS | Verdict.HOLDS:
            return margin_text(reason)
        case Verdict.UNDECIDED:
            return _open_remark(reason)
        case Verdict.EXCUSED:
            return "excused"
        case Verdict.ACCEPTED:
            return "accepted by you"
        case Verdict.BY_EYE:
            return "to be judged by eye"
        case Verdict.NOT_COVERED:
            return ""


def _open_remark(reason: Reason) -> str:
    causes = {"missing": "not known", "stale": "reading too old", "too close": "too close to call"}
    cause = causes.get(reason.cause, reason.cause or "not known")
    return f"{cause}, leans {reason.lean}" if reason.lean in ("yes", "no") else cause


def support_text(reason: Reason) -> str:
    """Return what a reason rests on in the end: its source and how sure that is."""
    grade = grade_text(reason.grade)
    return f"{reason.source} ({grade})" if reason.source and grade else reason.source or grade


def limits_text(reason: Reason, lead: str = "here ") -> str:
    """Return both numbers of a reason in one phrase: ``here 12 ±1 cm, wanted 20 cm or more``."""
    here = value_text(_worth_telling(reason), _missing(reason))
    wanted = wanted_text(reason.wanted_low, reason.wanted_high)
    return ", ".join(filter(None, (f"{lead}{here}" if here else "", f"wanted {wanted}" if wanted else "")))
