"""Rules, preferences and examples out of the parser's tree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.errors import Problem
from advisor.language.build import (
    Refused,
    Site,
    amount,
    band,
    branches,
    joined,
    name_of,
    named,
    source,
    template,
    tokens,
    unquoted,
    words,
)
from advisor.language.build_expr import binder, expr
from advisor.language.build_words import once
from advisor.language.nodes import (
    Call,
    Example,
    Expr,
    Given,
    Level,
    Name,
    Number,
    Outcome,
    Prefer,
    Rule,
    Since,
    Stage,
    Text,
    Then,
)
from advisor.language.since import as_call
from advisor.model.vocabulary import Kind, Source

if TYPE_CHECKING:
    from advisor.language.build import Branch

DEFAULT_FADE_STEPS = 10.0
_MANY_DUTIES = frozenset({"duty"})


def _need(tree: Branch, site: Site, found: dict[str, Branch], what: str, *keys: str) -> None:
    """Refuse a declaration that lacks a clause; any one of `keys` will do."""
    if not any(key in found for key in keys):
        words_for = {"by_eye": "expect-by-eye", "level_clause": "level"}
        asked = " or ".join(words_for.get(key, key) for key in keys)
        raise Refused(
            Problem(
                "word-114",
                f"{what} '{name_of(tree)}' has no '{asked}'",
                site.span(tree.children[0], tree.children[1]),
                f"{what} needs: {asked}",
                f"add a line: {asked.split(' or ')[0]} …",
            )
        )


def _inner(site: Site, clause: Branch | None) -> Expr | None:
    """The expression of a clause, if there is one."""
    return expr(site, branches(clause)[0]) if clause is not None else None


def _template(site: Site, clause: Branch | None, tree: Branch) -> Text:
    """The template of a clause, empty without one."""
    if clause is None:
        return Text(site.span(tree.children[0], tree.children[1]), ())
    return template(site, named(clause, "texts")[0])


def _plain(clause: Branch | None) -> str:
    """The plain text of a clause, empty without one."""
    return joined(named(clause, "texts")[0]) if clause is not None else ""


def _source(site: Site, clause: Branch | None) -> Source | None:
    """The source of a declaration, if it names one."""
    return source(site, clause) if clause is not None else None


def rule(site: Site, tree: Branch) -> Rule:
    """Return one requirement."""
    clauses = branches(tree)[1:]
    found = once(site, clauses, "this rule", _MANY_DUTIES)
    _need(tree, site, found, "a rule", "expect", "by_eye")
    _need(tree, site, found, "a rule", "level_clause")
    _need(tree, site, found, "a rule", "because")
    if "expect" in found and "by_eye" in found:
        site.say(
            "word-113",
            "a rule is either computed or checked by eye",
            found["by_eye"],
            "the other one counts",
            "make two rules of it",
        )
    expected = found.get("expect")
    stage = str(found["stage"].children[1]) if "stage" in found else "always"
    return Rule(
        span=site.span(tree.children[0], tree.children[1]),
        name=name_of(tree),
        binders=tuple(binder(site, part) for part in branches(named(tree, "binders")[0])),
        when=_inner(site, found.get("when")),
        expect=_inner(site, expected),
        by_eye=_plain(found.get("by_eye")) if expected is None else "",
        until_horizon=expected is not None and bool(named(expected, "until_horizon")),
        unless=_inner(site, found.get("unless")),
        level=Level(str(branches(found["level_clause"])[0].children[0])),
        stage=Stage(stage),
        because=_template(site, found.get("because"), tree),
        matters=_plain(found.get("matters")),
        remedy=_template(site, found.get("remedy"), tree),
        duties=tuple(template(site, named(part, "texts")[0]) for part in named(tree, "duty")),
        source=_source(site, found.get("source")),
    )


def prefer(site: Site, tree: Branch) -> Prefer:
    """Return one comfort."""
    found = once(site, branches(tree)[1:], "this preference")
    _need(tree, site, found, "a preference", "want")
    _need(tree, site, found, "a preference", "weight")
    _need(tree, site, found, "a preference", "because")
    fade = float(tokens(found["fade"], "NUMBER")[0]) if "fade" in found else DEFAULT_FADE_STEPS
    weight = float(tokens(found["weight"], "NUMBER")[0])
    for value, key, usual in ((fade, "fade", DEFAULT_FADE_STEPS), (weight, "weight", 1.0)):
        if not 0 < value <= 1000:
            what = f"{key} must lie above 0 and at most at 1000"
            site.say("units-205", what, found[key], "", f"{key} {min(value, 1000.0) or usual:g}")
    wanted = expr(site, branches(found["want"])[0])
    return Prefer(
        site.span(tree.children[0], tree.children[1]),
        name_of(tree),
        tuple(binder(site, part) for part in branches(named(tree, "binders")[0])),
        _inner(site, found.get("when")),
        wanted,
        weight,
        fade,
        _template(site, found.get("because"), tree),
        _source(site, found.get("source")),
    )


def example(site: Site, tree: Branch) -> Example:
    """Return one case."""
    title = unquoted(str(tokens(tree, "STRING")[0]))
    parts = [part for group in named(tree, "givens") for part in branches(group)]
    kinds = {name_of(part): _kind_of(part) for part in parts if part.data == "given_entity"}
    givens = tuple(fact for part in parts for fact in _given(site, part, kinds))
    thens = tuple(_then(site, part, kinds) for group in named(tree, "outcomes") for part in branches(group))
    span = site.span(tree.children[0], tree.children[3])
    if not givens or not thens:
        missing = "given" if not givens else "then"
        raise Refused(
            Problem(
                "word-114",
                f"this example has no '{missing}'",
                span,
                "an example needs given and then",
                f"add a line: {missing} …",
            )
        )
    return Example(span, title, name_of(tree), givens, thens)


def _kind_of(tree: Branch) -> Kind:
    """The kind of thing that a line of an example introduces."""
    return Kind(str(named(tree, "kind")[0].children[0]))


def _asked(site: Site, tree: Branch, kinds: dict[str, Kind]) -> Expr:
    """What an example speaks of: a reading as it is asked for, an event by its measure."""
    found = expr(site, tree)
    return as_call(found, kinds) if isinstance(found, Since) else found


def _given(site: Site, tree: Branch, kinds: dict[str, Kind]) -> list[Given]:
    """The facts one line of an example states; an entity's attributes become facts of their own."""
    span = site.span(tree)
    if tree.data == "given_entity":
        entity, *owner = (str(token) for token in tokens(tree, "NAME"))
        kind = _kind_of(tree)
        facts = [Given(span, entity, kind, of=owner[0] if owner else "")]
        for group in named(tree, "given_with"):
            facts.extend(_attributes(site, entity, branches(group)))
        return facts
    call = _asked(site, branches(tree)[0], kinds)
    if not isinstance(call, Call):
        raise Refused(
            Problem(
                "test-702",
                "an example states facts",
                span,
                "a measure or relation is expected",
                "gap(torch-1, zoa-2) = 12 cm",
            )
        )
    if tree.data == "given_bare":
        unknown = bool([child for child in tree.children if str(child) == "unknown"])
        return [Given(span, fact=call, word="" if unknown else "yes")]
    return [_fact(site, call, branches(tree)[1], tree)]


def _fact(site: Site, call: Call, value: Branch, whole: Branch) -> Given:
    """``gap(a, b) = 12 cm``."""
    low, high, word = _given_value(site, value)
    return Given(site.span(whole), fact=call, low=low, high=high, word=word)


def _given_value(site: Site, value: Branch) -> tuple[Number | None, Number | None, str]:
    """A number (both ends alike), a range, a word, or three times nothing: unknown."""
    inner = branches(value)
    if inner and inner[0].data == "band":
        low, high = band(site, inner[0])
        return low, high, ""
    if inner:
        number = amount(site, inner[0])
        return number, number, ""
    return None, None, ", ".join(words(value))


def _attributes(site: Site, entity: str, items: list[Branch]) -> list[Given]:
    """``with potency = 3, footing = rock, sand``; a bare word goes on with the value before it."""
    facts: list[Given] = []
    for item in items:
        key = tokens(item, "NAME")[0]
        values = named(item, "given_value")
        if values:
            span = site.span(key)
            call = Call(span, str(key), (Name(span, entity),), False, span)
            facts.append(_fact(site, call, values[0], item))
        elif facts and facts[-1].word:
            last = facts[-1]
            facts[-1] = Given(last.span, fact=last.fact, word=f"{last.word}, {key}")
        else:
            raise Refused(
                Problem(
                    "test-703", f"'{key}' has no value", site.span(key), "a value is expected", f"{key} = yes"
                )
            )
    return facts


def _then(site: Site, tree: Branch, kinds: dict[str, Kind]) -> Then:
    """One expected outcome."""
    result = branches(tree)[-1]
    amounts = named(result, "by")
    needs: list[Call] = []
    for part in named(result, "needs"):
        for term in branches(branches(part)[0]):
            call = _asked(site, term, kinds)
            if not isinstance(call, Call):
                raise Refused(
                    Problem(
                        "test-702",
                        "only a reading can be needed",
                        site.span(term),
                        "a measure is expected",
                        "gap(torch-1, zoa-2)",
                    )
                )
            needs.append(call)
    leaning = [str(child) for part in named(result, "leans") for child in part.children[1:]]
    months = [float(tokens(part, "NUMBER")[0]) for part in named(tree, "at_month")]
    return Then(
        site.span(tree),
        words(tree),
        Outcome(str(result.data).replace("_", " ")),
        amount(site, branches(amounts[0])[0]) if amounts else None,
        tuple(needs),
        bool(named(result, "too_close")),
        leaning[0] if leaning else "",
        months[0] if months else 0.0,
    )


__all__ = ["example", "prefer", "rule"]
