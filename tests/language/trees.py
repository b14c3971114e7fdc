"""Random trees, such as could have been read from a file."""

from __future__ import annotations

from hypothesis import strategies as st

from advisor.errors import Span
from advisor.language.nodes import (
    Aggregate,
    AggregateOp,
    And,
    Arith,
    ArithOp,
    Between,
    Binder,
    Call,
    Case,
    Chain,
    Compare,
    CompareOp,
    Declaration,
    Define,
    Expr,
    Extreme,
    Is,
    IsOp,
    Let,
    Level,
    Name,
    Negative,
    Not,
    Number,
    Or,
    Prefer,
    Rule,
    RuleFile,
    Since,
    Stage,
    StepsAway,
    Text,
)
from advisor.model.vocabulary import Grade, Kind, Param, Source

AT = Span("tree.rules", 2, 3, 2, 9, "  a tree")
NAMES = ("gap", "size", "level", "kind", "light-50", "torch-1", "x", "source")
THINGS = ("a", "b", "tank")
UNITS = ("", "cm", "PAR", "%", "mm/month", "°C", "µmol/m2/s", "times", "days")

names = st.sampled_from(NAMES)
numbers = st.builds(
    Number, st.just(AT), st.floats(0, 1e6, allow_nan=False, allow_infinity=False), st.sampled_from(UNITS)
)
words = st.builds(Name, st.just(AT), st.sampled_from((*NAMES, "yes", "no")))
things = st.builds(Name, st.just(AT), st.sampled_from(THINGS))
spots = things.map(lambda thing: Call(AT, "spot", (thing,), True, AT))
calls = st.builds(
    Call, st.just(AT), names, st.lists(things | spots, min_size=1, max_size=2).map(tuple)
) | st.builds(Call, st.just(AT), names, st.tuples(things | spots), st.just(True), st.just(AT))
chains = st.builds(Chain, st.just(AT), st.integers(1, 8), st.sampled_from(("a", "b")), names, st.just(AT))
binders = st.builds(
    Binder,
    st.just(AT),
    st.sampled_from((Kind.ANIMAL, Kind.CORAL, Kind.PLACE)),
    names,
    chain=st.none() | chains,
) | st.builds(
    Binder,
    st.just(AT),
    st.just(Kind.ANIMAL),
    names,
    st.sampled_from(("a", "b")),
    chain=st.none() | chains,
)
binders |= st.builds(
    Binder, st.just(AT), st.sampled_from((Kind.ROCK, Kind.LAMP, Kind.PUMP, Kind.FISH)), names
) | st.builds(
    Binder, st.just(AT), st.just(Kind.WEAPON), names, st.just(""), weapon_of=st.sampled_from(("a", "b"))
)
events = st.builds(Since, st.just(AT), st.sampled_from(("fixed", "level")), things | spots, st.just(AT))
steps_away = st.builds(StepsAway, st.just(AT), things, chains)


def _pairs(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[tuple[Expr, ...]]:
    """Two or three parts."""
    return st.lists(inner, min_size=2, max_size=3).map(tuple)


def _quantities(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    """Quantities made of smaller ones."""
    truths = st.builds(Compare, st.just(AT), st.sampled_from(CompareOp), inner, inner)
    many = st.sampled_from((AggregateOp.SUM, AggregateOp.LEAST, AggregateOp.MOST))
    return (
        st.builds(Arith, st.just(AT), st.sampled_from(ArithOp), inner, inner)
        | st.builds(Negative, st.just(AT), inner)
        | st.builds(Extreme, st.just(AT), st.booleans(), _pairs(inner))
        | st.builds(Aggregate, st.just(AT), many, binders, st.none() | truths, inner)
        | st.builds(
            Aggregate, st.just(AT), st.just(AggregateOp.COUNT), binders, st.none() | truths, st.none()
        )
    )


quantities: st.SearchStrategy[Expr] = st.recursive(
    numbers | words | calls | events, _quantities, max_leaves=6
)
word_sides = words | calls


def _truths(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    """Truths made of smaller ones."""
    some = st.sampled_from((AggregateOp.ANY, AggregateOp.EVERY))
    return (
        st.builds(And, st.just(AT), _pairs(inner))
        | st.builds(Or, st.just(AT), _pairs(inner))
        | st.builds(Not, st.just(AT), inner)
        | st.builds(Aggregate, st.just(AT), some, binders, st.none() | inner, st.none())
    )


truths: st.SearchStrategy[Expr] = st.recursive(
    st.builds(Compare, st.just(AT), st.sampled_from(CompareOp), quantities, quantities)
    | st.builds(Between, st.just(AT), quantities, quantities, quantities)
    | st.builds(
        Is,
        st.just(AT),
        st.sampled_from((IsOp.IS, IsOp.HAS)),
        word_sides,
        st.tuples(word_sides),
        st.booleans(),
    )
    | st.builds(
        Is,
        st.just(AT),
        st.just(IsOp.ONE_OF),
        word_sides,
        st.lists(word_sides, min_size=1, max_size=3).map(tuple),
        st.booleans(),
    )
    | calls
    | steps_away,
    _truths,
    max_leaves=6,
)

plain_texts = st.text(
    st.characters(
        codec="utf-8", exclude_characters='"{}\n\r\x00\x1e“”„‘’', exclude_categories=("Cc", "Cs", "Zl", "Zp")
    ),
    max_size=120,
)


@st.composite
def templates(draw: st.DrawFn) -> Text:
    """Texts with holes; literal pieces are never empty and never side by side."""
    pieces: list[str | Expr] = []
    for piece in draw(st.lists(plain_texts | quantities | things, min_size=1, max_size=4)):
        if isinstance(piece, str) and (not piece or (pieces and isinstance(pieces[-1], str))):
            continue
        pieces.append(piece)
    return Text(AT, tuple(pieces) or ("x",))


sources = st.builds(Source, plain_texts, st.sampled_from(Grade), st.sampled_from(("", "2024", "2024-05-06")))
lets = st.builds(Let, st.just(AT), names, numbers, plain_texts, st.none() | sources)


@st.composite
def defines(draw: st.DrawFn) -> Define:
    """Definitions: a truth, a quantity, or cases."""
    params = (Param(Kind.ANIMAL, "a"), Param(Kind.PLACE, "b"))
    say = draw(st.none() | templates())
    if draw(st.booleans()):
        return Define(AT, draw(names), params, None, (Case(AT, draw(truths), None),), say)
    last = Case(AT, draw(quantities), None)
    more = draw(st.lists(st.builds(Case, st.just(AT), quantities, truths), max_size=2))
    return Define(AT, draw(names), params, draw(st.sampled_from(("cm", "PAR", "rank"))), (*more, last), say)


@st.composite
def rules(draw: st.DrawFn) -> Rule:
    """Rules with every clause, or as few as may be."""
    by_eye = draw(st.booleans())
    maybe = st.none() | truths
    return Rule(
        AT,
        draw(names),
        (Binder(AT, Kind.ANIMAL, "a"), Binder(AT, Kind.ANIMAL, "b", "a")),
        draw(maybe),
        None if by_eye else draw(truths),
        draw(plain_texts) if by_eye else "",
        False if by_eye else draw(st.booleans()),
        draw(maybe),
        draw(st.sampled_from(Level)),
        draw(st.sampled_from(Stage)),
        draw(templates()),
        draw(plain_texts),
        draw(templates()),
        tuple(draw(st.lists(templates(), max_size=2))),
        draw(st.none() | sources),
    )


prefers = st.builds(
    Prefer,
    st.just(AT),
    names,
    st.just((Binder(AT, Kind.CORAL, "a"),)),
    st.none() | truths,
    truths,
    st.integers(1, 9).map(float),
    st.integers(1, 50).map(float),
    templates(),
    st.none() | sources,
)
declarations: st.SearchStrategy[Declaration] = lets | defines() | rules() | prefers
files = st.builds(
    RuleFile, st.just("tree.rules"), st.just(1), st.lists(declarations, min_size=1, max_size=3).map(tuple)
)
