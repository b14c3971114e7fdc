"""Random cards, house lines, examples, levers and vocabulary, such as could have been read from a file."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from advisor.language.build import base
from advisor.language.format_house import is_reason
from advisor.language.nodes import (
    Call,
    Card,
    CardValue,
    Declaration,
    Example,
    Given,
    HouseEdit,
    HouseVerb,
    Level,
    Lever,
    LeverWay,
    Name,
    Number,
    Outcome,
    RuleFile,
    Then,
    WordMeaning,
)
from advisor.model.vocabulary import (
    YES_NO,
    Assumption,
    Grade,
    Kind,
    Measure,
    NumberType,
    Param,
    Relation,
    SetType,
    Source,
    Supplier,
    ValueType,
    WordType,
)
from advisor.units import UNITS, Dimension
from tests.language.trees import AT, declarations, names, plain_texts, sources, templates

plain_numbers = st.decimals(0, 9999, places=2, allow_nan=False).map(float)
kept_texts = plain_texts.filter(lambda text: text.strip(" .…") != "")
dates = st.sampled_from(("2024-02-29", "2027-06-01"))
ids = st.sampled_from(("torch-1", "zoa-2", "Große-3"))
some_words = st.lists(st.sampled_from(("random", "pulsing", "rock", "up")), min_size=1, max_size=3).map(tuple)


def _numbers(*units: str) -> st.SearchStrategy[Number]:
    """Literals in one of some units."""
    return st.builds(Number, st.just(AT), plain_numbers, st.sampled_from(units))


def _value(key: str, number: Number, ground: Source | None, of: str = "") -> CardValue:
    """A card value made of a literal."""
    return CardValue(AT, key, of, base(number), number.unit, source=ground)


# --- cards ---------------------------------------------------------------------------


@st.composite
def _of_numbers(draw: st.DrawFn) -> list[CardValue]:
    """One line of numbers: of light, flow or growth, or a rank."""
    ground = draw(st.none() | sources)
    head, unit = draw(st.sampled_from((("light", "PAR"), ("flow", "cm/s"), ("growth", "mm/month"))))
    if head == "growth":
        keys = draw(st.lists(st.sampled_from(("growth-up", "growth-out")), min_size=1, unique=True))
        return [_value(key, draw(_numbers(unit)), ground) for key in keys]
    low, high = draw(_numbers(unit)), draw(_numbers(unit))
    values = [_value(f"{head}-best-low", low, ground), _value(f"{head}-best-high", high, ground)]
    if draw(st.booleans()):
        values.insert(0, _value(f"{head}-min", draw(_numbers(unit)), ground))
    return values


@st.composite
def _of_words(draw: st.DrawFn) -> list[CardValue]:
    """One line of words and texts."""
    ground = draw(st.none() | sources)
    match draw(st.sampled_from(("flow", "weapon", "footing", "hazard", "note", "defence", "names"))):
        case "flow":
            return [CardValue(AT, "flow-pattern", words=draw(some_words), source=ground)]
        case "weapon":
            of = draw(st.sampled_from(("sweepers", "mucus")))
            reach = _value("weapon-reach", draw(_numbers("cm", "mm")), ground, of)
            return [CardValue(AT, "weapon", of, words=(of,), source=ground), reach]
        case "footing":
            faces = CardValue(AT, "footing-faces", words=draw(some_words), source=ground)
            return [CardValue(AT, "footing", words=draw(some_words), source=ground), faces]
        case "hazard":
            text = CardValue(AT, "hazard-text", text=draw(plain_texts), source=ground)
            return [CardValue(AT, "hazard", words=draw(some_words), source=ground), text]
        case "note":
            return [CardValue(AT, "note-text", text=draw(plain_texts), source=ground)]
        case "defence":
            return [_value("defence", draw(_numbers("")), ground)]
        case _:
            return [
                CardValue(AT, "taxon", words=(draw(plain_texts),), source=ground),
                CardValue(AT, "genus", words=("torch",), source=ground),
                CardValue(AT, "group", words=("soft",), source=ground),
            ]


@st.composite
def cards(draw: st.DrawFn) -> Card:
    """Cards of a few lines."""
    lines = draw(st.lists(_of_numbers() | _of_words(), max_size=4))
    return Card(
        AT,
        draw(names),
        draw(plain_texts),
        tuple(draw(st.lists(plain_texts, max_size=6))),
        tuple(value for line in lines for value in line),
        draw(st.none() | sources),
    )


# --- house lines -----------------------------------------------------------------------


@st.composite
def edits(draw: st.DrawFn) -> HouseEdit:
    """Lines of a house block."""
    made = draw(_bare_edits())
    return replace(
        made,
        because=draw(st.just("") | kept_texts.filter(is_reason)),
        until=draw(st.just("") | dates),
        on=draw(st.just("") | dates),
    )


@st.composite
def _bare_edits(draw: st.DrawFn) -> HouseEdit:
    """Lines without a reason and without dates."""
    verb = draw(st.sampled_from(HouseVerb))
    name = draw(names)
    match verb:
        case HouseVerb.CHANGE_LET:
            return HouseEdit(AT, verb, name, old=draw(_numbers("cm")), new=draw(_numbers("mm")))
        case HouseVerb.CHANGE_CARD if draw(st.booleans()):
            old, new = draw(some_words), draw(some_words)
            return HouseEdit(AT, verb, name, "flow-pattern", old_words=old, new_words=new)
        case HouseVerb.CHANGE_CARD:
            ends = [draw(_numbers("PAR")) for _ in range(4)]
            return HouseEdit(
                AT, verb, name, "light-best", old=ends[0], old_high=ends[1], new=ends[2], new_high=ends[3],
                animal=draw(st.just("") | ids),
            )  # fmt: skip
        case HouseVerb.LEVEL:
            old_level, new_level = draw(st.sampled_from(Level)), draw(st.sampled_from(Level))
            return HouseEdit(AT, verb, name, old_level=old_level, new_level=new_level)
        case HouseVerb.ACCEPT:
            stood = draw(st.sampled_from(((), ("left ledge", "top"), ("top", ""))))
            short = draw(st.none() | _numbers("cm", "steps"))
            return HouseEdit(AT, verb, name, entities=(draw(ids), draw(ids)), stood=stood, short=short)
        case _:
            return HouseEdit(AT, verb, name)


# --- examples ----------------------------------------------------------------------------


@st.composite
def _givens(draw: st.DrawFn) -> Given:
    """A thing, or a fact about one."""
    if draw(st.booleans()):
        return Given(AT, draw(names), draw(st.sampled_from((Kind.CORAL, Kind.ANIMAL, Kind.PLACE))))
    call = Call(AT, draw(names), tuple(Name(AT, draw(names)) for _ in range(draw(st.integers(1, 2)))))
    if draw(st.booleans()):
        return Given(AT, fact=call, word=draw(st.sampled_from(("", "yes", "rock, rubble"))))
    low, high = draw(_numbers("cm")), draw(st.none() | _numbers("cm", "mm"))
    return Given(AT, fact=call, low=low, high=high or low)


@st.composite
def _thens(draw: st.DrawFn) -> Then:
    """What must come out."""
    outcome = draw(st.sampled_from(Outcome))
    by = draw(st.none() | _numbers("cm")) if outcome in (Outcome.HOLDS, Outcome.FAILS) else None
    undecided = outcome is Outcome.UNDECIDED
    needs = tuple(Call(AT, draw(names), (Name(AT, draw(names)),)) for _ in range(draw(st.integers(0, 2))))
    return Then(
        AT,
        tuple(draw(st.lists(names, min_size=1, max_size=2))),
        outcome,
        by,
        needs if undecided else (),
        undecided and draw(st.booleans()),
        draw(st.sampled_from(("", "yes", "no"))) if undecided else "",
        draw(st.sampled_from((0.0, 12.0, 1.5))),
    )


examples = st.builds(
    Example,
    st.just(AT),
    plain_texts,
    names,
    st.lists(_givens(), min_size=1, max_size=4).map(tuple),
    st.lists(_thens(), min_size=1, max_size=3).map(tuple),
)

# --- vocabulary and levers --------------------------------------------------------------

_params = st.sampled_from(
    (
        (Param(Kind.ANIMAL, "a"),),
        (Param(Kind.ANIMAL, "a"), Param(Kind.PLACE, "b")),
        (Param(Kind.TANK, "tank"),),
    )
)
_types: st.SearchStrategy[ValueType] = st.sampled_from(
    (
        NumberType(Dimension.LENGTH, UNITS["cm"]),
        NumberType(Dimension.LIGHT, UNITS["PAR"]),
        YES_NO,
        WordType(()),
        WordType(("fixed", "walks")),
        SetType(("rock", "sand")),
    )
)
_assumed = st.builds(
    Assumption,
    st.just(20.0),
    st.just(90.5),
    plain_texts,
    st.sampled_from(Grade),
    st.just(()) | st.just(("soft",)),
)


@st.composite
def measures(draw: st.DrawFn) -> Measure:
    """Readings, of numbers or words."""
    kind = draw(_types)
    number = isinstance(kind, NumberType)
    return Measure(
        draw(names),
        draw(_params),
        kind,
        (Supplier.CARD, Supplier.KEEPER),
        "light-min",
        draw(st.sampled_from(("", "lower", "higher"))),
        low=0.0,
        high=draw(st.sampled_from((99.0, float("inf")))) if number else float("inf"),
        usual=draw(st.sampled_from((None, (2.0, 80.0)))) if number else None,
        step=draw(st.sampled_from((0.1, 5.0))) if number else 1.0,
        error=0.15 if number else 0.0,
        error_is_fraction=number,
        stale_days=draw(st.sampled_from((None, 60.0))),
        at_a_month=draw(st.booleans()),
        say=draw(plain_texts),
        ask=draw(plain_texts),
        assumptions=tuple(draw(st.lists(_assumed, max_size=2))) if number else (),
    )


relations = st.builds(
    Relation,
    names,
    _params,
    st.just((Supplier.COMPUTED,)),
    st.just("gap"),
    st.booleans(),
    plain_texts,
    plain_texts,
)
meanings = st.builds(
    WordMeaning,
    st.just(AT),
    plain_texts,
    names,
    st.sampled_from(("anyone", "seller")),
    st.just(50.0),
    st.just(200.0),
    st.none() | sources,
    st.just("PAR"),
)


@st.composite
def levers(draw: st.DrawFn) -> Lever:
    """Things a keeper can change."""
    moves = draw(st.booleans())
    return Lever(
        AT,
        draw(names),
        (Param(Kind.ANIMAL, "a"), Param(Kind.ANIMAL, "b")),
        draw(names),
        ("a", "b"),
        AT,
        draw(st.integers(1, 99).map(float)),
        draw(templates()),
        draw(_numbers("cm")) if moves else None,
        draw(st.sampled_from(LeverWay)) if moves else LeverWay.EITHER,
        "" if moves else draw(st.sampled_from(("", "yes", "fixed"))),
        draw(st.none() | templates()),
    )


more_declarations: st.SearchStrategy[Declaration] = (
    cards() | edits() | examples | measures() | relations | meanings | levers()
)
mixed_files = st.builds(
    RuleFile,
    st.just("tree.rules"),
    st.just(1),
    st.lists(declarations | more_declarations, min_size=1, max_size=4).map(tuple),
)
