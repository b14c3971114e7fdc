"""What every answer carries around its rows: cautions first, gates, the weakest point, where to go on."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.model.results import Answer, Caution, CoralSummary, Need, Reason, Verdict
from advisor.reports.figures import value_text, wanted_text
from advisor.reports.page import Blank, Block, Labelled, Part, Tone, labelled
from advisor.reports.rows import limits_text, support_text
from advisor.reports.wording import counted, grade_text, grades_in_words, listed, sentence, sentences

_ONE_LINE = 78
_MANY = 3
_NAMED = 6
_ANY_CORAL = "CORAL"
_ONE_MORE = 2
_QUESTIONS = 8
_DEEPEST = 4
_NOT_TOLD = ("assumed", "unknown")


def caution_blocks(
    cautions: Sequence[Caution], level: int, coral: str = _ANY_CORAL, given: str = ""
) -> list[Block]:
    """Return the cautions for people: at every level, before anything else; then where the whole sheet is."""
    blocks: list[Block] = []
    for caution in cautions:
        grounds = f" [{caution.source}, {grade_text(caution.grade)}]" if level >= 2 and caution.source else ""
        about = f"{listed(caution.about, _NAMED)}: " if caution.about else ""
        blocks.append(labelled("CAUTION", about + sentence(caution.text) + grounds, Tone.CAUTION))
    if blocks and level >= 1 and coral:
        blocks.extend(
            labelled("", f"Before you touch it: advisor {carrying(f'handle {name}', given)}", Tone.QUIET)
            for name in _whose_sheets(cautions, coral)
        )
    return blocks


def _whose_sheets(cautions: Sequence[Caution], coral: str) -> list[str]:
    """Whose sheets are to be read: of each caution the one asked about, else the first it names."""
    if coral == _ANY_CORAL:
        return [coral]
    firsts = (coral if not each.about or coral in each.about else each.about[0] for each in cautions)
    return list(dict.fromkeys(firsts))


def gate_blocks(gates: Sequence[Reason], level: int) -> list[Block]:
    """Return what must be put right in the whole tank before places mean anything.

    At level 0 only what is a danger, for there the verdict stands alone.
    """
    told = [gate for gate in gates if level >= 1 or gate.level == "danger"]
    fails = [gate for gate in told if gate.verdict is Verdict.FAILS]
    still_open = [
        gate for gate in told if gate.verdict is Verdict.UNDECIDED and (level >= 2 or gate.level != "advice")
    ]
    if level == 1:  # what is wanted is narrower than what can be borne
        milder = {gate.quantity for gate in still_open if gate.level != "danger"} - {""}
        still_open = [gate for gate in still_open if gate.level != "danger" or gate.quantity not in milder]
    return [
        *_gate_group("FIX FIRST", Tone.BAD, [(gate, _to_fix(gate)) for gate in fails], level),
        *_gate_group("TEST FIRST", Tone.OPEN, _tests(still_open, level), level),
    ]


def only_after(gates: Sequence[Reason]) -> str:
    """Return when a verdict counts: empty, or after what a danger of the whole tank asks for."""
    verdicts = {gate.verdict for gate in gates if gate.level == "danger"}
    if Verdict.FAILS in verdicts:
        return "only when that is fixed"
    return "only if that test is good" if Verdict.UNDECIDED in verdicts else ""


def _tests(gates: Sequence[Reason], level: int) -> list[tuple[Reason, str]]:
    """What to test; at a glance everything that was never measured is one sentence."""
    never = [
        gate
        for gate in gates
        if gate.quantity and gate.here is not None and not gate.here.known and gate.here.best is None
    ]
    if level == 0:
        return [(gate, sentences([need.ask for need in gate.needs[:1]] or [gate.sentence])) for gate in gates]
    if level >= 2 or len(never) < _MANY:
        return [(gate, _to_test(gate)) for gate in gates]
    names = (f"{gate.quantity} ({wanted_text(gate.wanted_low, gate.wanted_high)})" for gate in never)
    text = f"Never told or measured: {', '.join(names)}. In brackets what is wanted."
    return [*((gate, _to_test(gate)) for gate in gates if gate not in never), (never[0], text)]


def _gate_group(label: str, tone: Tone, told: Sequence[tuple[Reason, str]], level: int) -> list[Block]:
    blocks: list[Block] = []
    for gate, text in told:
        blocks.append(Labelled("" if blocks else label, (Part(text),), tone, width=11))
        if level >= 2:
            blocks.append(labelled("", f"[{gate.number} {gate.id}: {support_text(gate)}]", width=11))
    return blocks


def _to_fix(gate: Reason) -> str:
    limits = limits_text(gate, _lead(gate))
    return sentences((gate.sentence, gate.remedy)) + (f" ({limits})" if limits else "")


def _to_test(gate: Reason) -> str:
    """What to test and why; what it says of the tank only where it was ever measured."""
    asks = [need.ask for need in gate.needs[:2]]
    known = gate.here is not None and (gate.here.known or gate.here.best is not None)
    told = (gate.sentence, *asks) if known or not asks else asks
    limits = limits_text(gate, _lead(gate))
    return sentences(told) + (f" ({limits})" if limits else "")


def _lead(gate: Reason) -> str:
    return f"{gate.quantity} " if gate.quantity else "here "


def coral_head(coral: CoralSummary) -> Block:
    """Return the first line about a coral: who it is, and what it is used to if there is room."""
    return labelled(coral.id, ", ".join([*_who(coral), *_origin(coral, in_head=True)]))


def _who(coral: CoralSummary) -> list[str]:
    size = value_text(coral.size, "size not told") if coral.size is not None else ""
    place = "not in this tank yet" if coral.not_in_tank else f"now at {coral.place}" if coral.place else ""
    return list(filter(None, (coral.title or coral.card, size, place)))


def _origin(coral: CoralSummary, *, in_head: bool) -> list[str]:
    """The light it comes from: in the first line where that stays one line, else below the cautions."""
    if coral.origin_light is None and not coral.origin_note:
        return []
    told = coral.origin_light is not None and coral.origin_light.kind not in _NOT_TOLD
    note = f" ({coral.origin_note})" if coral.origin_note and told else ""
    text = f"comes from {value_text(coral.origin_light)}{note}" if told else "light it comes from: not told"
    fits = len(", ".join([coral.id.ljust(9), *_who(coral), text])) <= _ONE_LINE
    return [text] if fits is in_head else []


def about_blocks(coral: CoralSummary) -> list[Block]:
    """Return how a trade name was read, and the light it is used to or is reckoned to be."""
    reckoned = _reckoned(coral)
    texts = (coral.known_as, *_origin(coral, in_head=False), reckoned)
    return [labelled("", sentence(text)) for text in texts if text]


def _reckoned(coral: CoralSummary) -> str:
    origin = coral.origin_light
    if origin is None or origin.kind not in _NOT_TOLD:
        return ""
    if origin.kind == "unknown" or origin.low is None:
        return coral.origin_note
    known = value_text(origin.model_copy(update={"known": True}))
    return ", ".join(filter(None, (f"I reckon with {known}", coral.origin_note)))


def need_blocks(needs: Sequence[Need], level: int) -> list[Block]:
    """Return the readings and looks that settle most, best first."""
    most = len(needs) if level >= _DEEPEST else _QUESTIONS if level >= _ONE_MORE else 3
    blocks: list[Block] = []
    for need in needs[:most]:
        settles = f" Settles {counted(need.settles, 'open question')}." if need.settles else ""
        subjects = f"({', '.join(need.subjects)})" if need.subjects else ""
        about = f" [{need.measure}{subjects}]" if level >= 2 and need.measure else ""
        blocks.append(labelled("" if blocks else "DO NEXT", sentence(need.ask) + settles + about))
        if need.command:
            blocks.append(labelled("", f"then type: {need.command}", Tone.QUIET))
    if level >= _ONE_MORE and len(needs) > most:
        blocks.append(labelled("", f"and {len(needs) - most} more: --level 4", Tone.QUIET))
    return blocks


def footer_blocks(answer: Answer, level: int, fallback: Sequence[str] = ()) -> list[Block]:
    """Return the last lines: notes, the weakest point, and how to dig deeper."""
    blocks: list[Block] = [labelled("NOTE", sentence(note)) for note in answer.notes]
    if answer.weakest:
        blocks.append(
            labelled("Weakest point:", sentence(grades_in_words(answer.weakest)), Tone.OPEN, width=15)
        )
    return [*blocks, *more_blocks(_deeper(answer.more or tuple(fallback), level), answer.given)]


def more_blocks(more: Sequence[str], given: str) -> list[Block]:
    """Return how to go on: options to add, and commands, which carry what was given, each on a line then."""
    if not given:
        return [labelled("More:", " | ".join(more), Tone.QUIET, width=6)] if more else []
    options = " | ".join(each for each in more if each.startswith("--"))
    commands = (carrying(each, given) for each in more if not each.startswith("--"))
    lines = (each for each in (*commands, options) if each)
    return [labelled("" if at else "More:", each, Tone.QUIET, width=6) for at, each in enumerate(lines)]


def carrying(command: str, given: str) -> str:
    """Return a command with the options that were given."""
    return f"{command} {given}".rstrip()


def _deeper(more: Sequence[str], level: int) -> tuple[str, ...]:
    """How to dig deeper from the level that is printed."""
    if level < _ONE_MORE:
        return tuple(more)
    deeper = (each.replace("--level 2", f"--level {level + 1}") for each in more)
    return tuple(each for each in deeper if level < _DEEPEST or not each.startswith("--level"))


def parted(*groups: Sequence[Block]) -> list[Block]:
    """Return groups of blocks with an empty line between those that are not empty."""
    blocks: list[Block] = []
    for group in groups:
        if blocks and group:
            blocks.append(Blank())
        blocks.extend(group)
    return blocks
