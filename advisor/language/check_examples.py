"""Examples against the rules they belong to: known things, known readings, possible values."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from itertools import count

from advisor.errors import Problem
from advisor.language.dimensions import PHRASE, number_type, of_dimension, shown
from advisor.language.guess import nearest, several
from advisor.language.mends import in_unit, number_in, some, value_of
from advisor.language.nodes import Call, Example, Expr, Given, Name, Number, Outcome, Prefer, Rule, Then
from advisor.language.things import ARTICLE, SPOT, source_text
from advisor.language.valuetypes import Typer
from advisor.language.walk import walk
from advisor.model.vocabulary import Kind, NumberType, SetType, TruthType, ValueType, WordType
from advisor.units import BASE_UNIT, DIMENSIONLESS, Dimension


def check_example(example: Example, rules: Mapping[str, Rule | Prefer], typer: Typer) -> list[Problem]:
    """Return what is wrong with one example; `typer` knows the vocabulary."""
    rule = rules.get(example.rule)
    if rule is None:
        return [
            Problem(
                "test-704",
                f"example \"{example.title}\" is for '{example.rule}', which does not exist",
                example.span,
                "a rule or preference is expected",
                nearest(example.rule, rules, 55.0),
            )
        ]
    fresh = Typer(typer.vocabulary, {}, typer.defines)
    scope = {given.entity: given.kind for given in example.givens if given.kind is not None}
    _introduced_once(example, fresh)
    for given in example.givens:
        if given.fact is not None:
            _fact(example, given, given.fact, scope, fresh)
    for then in example.thens:
        _then(example, then, rule, scope, fresh)
    return fresh.problems


def _introduced_once(example: Example, typer: Typer) -> None:
    """Each thing is introduced once."""
    seen: set[str] = set()
    for given in example.givens:
        if given.entity and given.entity in seen:
            kind = given.kind.value if given.kind is not None else "animal"
            mend = f"{_next_name(given.entity, {each.entity for each in example.givens})} is {kind}"
            what = f"'{given.entity}' is introduced twice"
            typer.say("test-705", what, given.span, "the second time", mend)
        seen.add(given.entity)
        _owned(example, given, typer)


def _next_name(name: str, taken: Collection[str]) -> str:
    """A name like one that is taken: ``a-2`` after ``a-1``."""
    stem = re.sub(r"-\d+$", "", name)
    return next(new for number in count(1) if (new := f"{stem}-{number}") not in taken)


def _asked_about(rule: Rule | Prefer, scope: Mapping[str, Kind]) -> str:
    """As many things as a rule is about, of the given where there are such, in the order of the rule."""
    left = dict(scope)
    named = []
    for binder in rule.binders:
        found = "tank" if binder.kind is Kind.TANK else some(binder.kind, left) or binder.name
        left.pop(found, None)
        named.append(found)
    return ", ".join(named)


def _owned(example: Example, given: Given, typer: Typer) -> None:
    """A weapon is introduced with the animal that has it, and nothing else belongs to anybody."""
    animals = [each.entity for each in example.givens if each.kind is not None and each.kind.lives]
    if given.kind is Kind.WEAPON and not given.of:
        whose = f"{given.entity} is weapon of {animals[0] if animals else '…'}"
        typer.say("test-712", f"'{given.entity}' is nobody's weapon", given.span, "whose is it?", whose)
    elif given.of and given.kind is not Kind.WEAPON and given.kind is not None:
        plain = f"{given.entity} is {given.kind.value}"
        typer.say(
            "test-712", f"{ARTICLE[given.kind]} belongs to nobody", given.span, "only a weapon does", plain
        )
    elif given.of and given.of not in animals:
        typer.say(
            "test-701",
            f'example "{example.title}" names {given.of}, which is no animal of its given',
            given.span,
            f"animals given are: {several(animals)}",
            nearest(given.of, animals, 50.0),
        )


def _known(example: Example, call: Call, scope: Mapping[str, Kind], typer: Typer) -> bool:
    """Whether a call names a known reading of things in the given; otherwise it is told."""
    params = typer.params(call.name)
    if params is None:
        known = (*typer.vocabulary.measures, *typer.vocabulary.relations)
        typer.say(
            "word-104",
            f"I do not know '{call.name}'",
            call.name_span or call.span,
            "not in the vocabulary",
            nearest(call.name, known, 55.0),
        )
        return False
    before = len(typer.problems)
    good = typer.arguments(call, params, scope)
    for index in range(before, len(typer.problems)):
        found = typer.problems[index]
        if found.code == "word-123":
            what = found.what.replace("nothing here is called ", f'example "{example.title}" names ')
            typer.problems[index] = Problem(
                "test-701",
                f"{what}, which is not in its given",
                found.span,
                f"given are: {several(scope)}",
                found.mend,
            )
    return good


def _fact(example: Example, given: Given, call: Call, scope: Mapping[str, Kind], typer: Typer) -> None:
    """One fact: a known reading with a value it can have."""
    if not _known(example, call, scope, typer):
        return
    if call.name in typer.defines:
        typer.say(
            "test-706",
            f"'{call.name}' is defined, so it is reckoned and cannot be given",
            call.span,
            "give what it is made of",
            _made_of(call, typer),
        )
        return
    kind = typer.value_of(call.name)
    if given.low is not None and given.high is not None:
        _number(given.low, call, kind, typer)
        _number(given.high, call, kind, typer)
    elif given.word:
        _word(given, call, kind, typer)


def _number(number: Number, call: Call, kind: ValueType, typer: Typer) -> None:
    """A given number: its unit and its range."""
    found = number_type(number.unit)
    measure = typer.vocabulary.measures.get(call.name)
    if not isinstance(kind, NumberType) or measure is None:
        typer.say("test-707", f"'{call.name}' is not a number", number.span, _wanted(kind), value_of(kind))
    elif not number.unit and kind.dimension not in DIMENSIONLESS:
        unit = kind.unit.name or BASE_UNIT[kind.dimension].name
        typer.say(
            "units-202",
            "this number needs a unit",
            number.span,
            f"{call.name} is measured in {unit}",
            f"{number.value:g} {unit}",
        )
    elif number.unit and found.dimension is not kind.dimension:
        typer.say(
            "units-201",
            f"{PHRASE[found.dimension]} is given where {PHRASE[kind.dimension]} is meant",
            number.span,
            f"{call.name} is measured in {kind.unit.name or 'plain numbers'}",
            in_unit(number.value, kind),
        )
    else:
        value = number.value * found.unit.factor + found.unit.offset
        if not measure.low <= value <= measure.high:
            typer.say(
                "test-708",
                f"{call.name} cannot be {number.value:g} {number.unit}".rstrip(),
                number.span,
                "outside the range the measure declares",
                number_in(min(max(value, measure.low), measure.high), found.unit),
            )


def _made_of(call: Call, typer: Typer) -> str:
    """A line that gives the first reading a definition rests on."""
    define = typer.defines[call.name]
    names = {param.name: source_text(arg) for param, arg in zip(define.params, call.args, strict=True)}
    for node in (node for case in define.cases for node in walk(case.value)):
        if isinstance(node, Call) and node.name not in (SPOT, *typer.defines):
            args = [_thing(arg, names) for arg in node.args]
            value = value_of(typer.value_of(node.name), typer.vocabulary.measures.get(node.name))
            if all(args):
                return f"{node.name}({', '.join(args)}) = {value}"
    return ""


def _thing(arg: Expr, names: Mapping[str, str]) -> str:
    """A thing a definition speaks of, as the example calls it; nothing for one it binds itself."""
    match arg:
        case Name(name=name):
            return names.get(name, "tank" if name == "tank" else "")
        case Call(name="spot", args=(Name(name=name),)) if name in names:
            return f"{names[name]}.{SPOT}"
        case _:
            return ""


def _wanted(kind: ValueType) -> str:
    """What a value of a kind looks like."""
    match kind:
        case WordType(words=words) | SetType(words=words):
            return f"one of: {several(words, 12)}" if words else "a name"
        case TruthType():
            return "yes or no"
        case _:
            return "a number with its unit"


def _word(given: Given, call: Call, kind: ValueType, typer: Typer) -> None:
    """A given word, or several."""
    words = given.word.split(", ")
    allowed = (
        ("yes", "no") if isinstance(kind, TruthType) else () if isinstance(kind, NumberType) else kind.words
    )
    if isinstance(kind, NumberType):
        mend = f"{source_text(call)} = {value_of(kind, typer.vocabulary.measures.get(call.name))}"
        typer.say("test-707", f"'{call.name}' is a number", given.span, "a word stands here", mend)
        return
    if len(words) > 1 and not isinstance(kind, SetType):
        typer.say("test-707", f"'{call.name}' is one word", given.span, f"{len(words)} are given", words[0])
    for word in words if allowed else ():
        if word not in allowed:
            typer.say(
                "word-119",
                f"'{word}' is not a word of {call.name}",
                given.span,
                f"{call.name} is one of: {several(allowed, 12)}",
                nearest(word, allowed, 50.0),
            )


def _then(example: Example, then: Then, rule: Rule | Prefer, scope: Mapping[str, Kind], typer: Typer) -> None:
    """One expected outcome: the right number of known things, and readings that can be needed."""
    if len(then.entities) != len(rule.binders):
        wanted = ", ".join(binder.name for binder in rule.binders)
        typer.say(
            "test-709",
            f"'{rule.name}' is about {len(rule.binders)} things, {len(then.entities)} are named",
            then.span,
            f"in the order of the rule: {wanted}",
            f"{_asked_about(rule, scope)} {then.outcome.value}",
        )
        return
    for name, binder in zip(then.entities, rule.binders, strict=True):
        if binder.kind is Kind.TANK:
            if name != "tank":
                typer.say(
                    "test-709", "this rule is about the tank", then.span, f"'{name}' is named", "tank holds"
                )
        elif name not in scope:
            typer.say(
                "test-701",
                f'example "{example.title}" names {name}, which is not in its given',
                then.span,
                f"given are: {several(scope)}",
                nearest(name, scope, 50.0),
            )
    for call in then.needs:
        _known(example, call, scope, typer)
    if then.by is not None and then.by.value < 0:
        mend = shown(-then.by.value, then.by.unit)
        mend = mend if then.outcome is Outcome.FAILS else f"fails by {mend}"
        typer.say(
            "test-710", "an amount is never negative", then.by.span, "'fails by' already says which way", mend
        )
    if then.by is not None:
        _amount(then, then.by, rule, scope, typer)


def _amount(then: Then, by: Number, rule: Rule | Prefer, scope: Mapping[str, Kind], typer: Typer) -> None:
    """The amount of an outcome has the dimension of something the rule compares."""
    found = number_type(by.unit).dimension
    asked = rule.expect if isinstance(rule, Rule) else rule.want
    if asked is None:
        mend = f"{', '.join(then.entities)} {then.outcome.value}"
        typer.say("test-710", "a rule checked by eye has no amount", by.span, "remove it", mend)
        return
    dimensions = _compared(asked, rule, typer)
    dimensions |= {Dimension.TEMPERATURE_STEP} if Dimension.TEMPERATURE in dimensions else set()
    fits = found in dimensions or (not by.unit and bool(dimensions & DIMENSIONLESS))
    if dimensions and not fits:
        names = several(sorted(PHRASE[dimension] for dimension in dimensions))
        typer.say(
            "units-201",
            f"{PHRASE[found]} is given where {names} is meant",
            by.span,
            f"'{rule.name}' compares {names}",
            in_unit(by.value, of_dimension(min(dimensions, key=PHRASE.__getitem__))),
        )


def _compared(asked: object, rule: Rule | Prefer, typer: Typer) -> set[Dimension]:
    """The dimensions that a rule's expectation compares, through definitions and `where`."""
    from advisor.language.nodes import Aggregate, Between, Compare
    from advisor.language.valuetypes import scope_of

    found: set[Dimension] = set()
    todo = [(asked, dict(scope_of(rule.binders)))]
    seen: set[str] = set()
    while todo:
        expr, scope = todo.pop()
        for node in walk(expr):  # type: ignore[arg-type]  # `asked` is an expression
            if isinstance(node, Aggregate):
                scope = {**scope, node.binder.name: node.binder.kind}
            if isinstance(node, Compare | Between):
                sides = (
                    (node.left, node.right)
                    if isinstance(node, Compare)
                    else (node.value, node.low, node.high)
                )
                for side in sides:
                    kind = Typer(typer.vocabulary, typer.lets, typer.defines).type_of(side, scope)
                    if isinstance(kind, NumberType):
                        found.add(kind.dimension)
            define = typer.defines.get(node.name) if isinstance(node, Call) else None
            if define is not None and define.name not in seen:
                seen.add(define.name)
                inner = {param.name: param.kind for param in define.params}
                todo.extend((case.value, inner) for case in define.cases)
    return found
