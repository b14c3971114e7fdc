"""The page of one rule or preference."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.language.format_cases import given_lines, then_text
from advisor.language.format_expr import HARD_SPACE, literal, template
from advisor.language.nodes import HouseVerb, Prefer, Rule
from advisor.rulework.definition_pages import meaning
from advisor.rulework.documents import Document, Shelf, definitions_of, link, page, plain, table
from advisor.rulework.reading_pages import unit_of
from advisor.rulework.sentences import Speaker


def rule_page(name: str, shelf: Shelf) -> Document:
    """Return the page of a rule or preference: what it says, its numbers, grounds, examples and relatives."""
    item, at = shelf.item(name), shelf.where(name)
    speaker = Speaker(shelf.library)
    sentence = speaker.rule(item) if isinstance(item, Rule) else speaker.preference(item)
    parts = [
        plain(sentence),
        _facts(item, shelf),
        *_section("Numbers in force", _numbers(name, shelf)),
        *_section("Definitions it rests on", _definitions(name, shelf, at, speaker)),
        *_section("What it says", _texts(item)),
        *_section("Readings it looks at", _readings(name, shelf, at)),
        *_section("Examples", _examples(name, shelf)),
        *_section("Rules that share a reading", _relatives(name, shelf, at)),
        f"Written in `{item.span.file}`, line {item.span.line}.",
    ]
    return Document(at, name, page(name, *parts))


def _section(title: str, body: str) -> list[str]:
    """A heading and what is below it, if there is anything."""
    return [f"## {title}", body] if body else []


def _facts(item: Rule | Prefer, shelf: Shelf) -> str:
    """Level, stage and source, and what the house made of them."""
    rows = []
    if isinstance(item, Rule):
        shipped = shelf.library.shipped.rules.get(item.name, item).level
        was = "" if shipped is item.level else f" (shipped: {shipped.value})"
        rows += [("level", item.level.value + was), ("stage", item.stage.value)]
        for verb in (HouseVerb.LEVEL, HouseVerb.ACCEPT):
            rows += [("house", edit) for edit in shelf.changed(verb, item.name)]
    else:
        rows += [("weight", f"{item.weight:g}"), ("fades over", f"{item.fade_steps:g} steps")]
    if item.source is not None:
        rows += [("source", plain(item.source.text)), ("grade", item.source.grade.value)]
    return table(("", ""), rows)


def _numbers(name: str, shelf: Shelf) -> str:
    """Every named number, with what the house made of it."""
    rows = []
    for number in shelf.numbers[name]:
        let = shelf.library.lets[number]
        ground = let.because or (let.source.text if let.source else "")
        house = shelf.changed(HouseVerb.CHANGE_LET, number)
        shipped = shelf.library.shipped.lets.get(number, let)
        was = "" if shipped.value == let.value else plain(literal(shipped.value))
        rows.append((plain(number), plain(literal(let.value)), plain(ground), was, "; ".join(house)))
    head = ("number", "value", "why", "shipped", "changed by the house")
    if not any(row[-1] for row in rows):
        return table(head[:3], [row[:3] for row in rows])
    return table(head, rows)


def _definitions(name: str, shelf: Shelf, at: str, speaker: Speaker) -> str:
    """What each definition means, case by case."""
    return "\n\n".join(meaning(define, shelf, at, speaker) for define in definitions_of(shelf, name))


def _texts(item: Rule | Prefer) -> str:
    """The sentences an answer prints."""
    rows = [("this case", plain(template(item.because)))]
    if isinstance(item, Rule):
        rows += [("why it matters", plain(item.matters)), ("what helps", plain(template(item.remedy)))]
        rows += [("then do", plain(template(duty))) for duty in item.duties]
    return table(("", ""), [row for row in rows if row[1]])


def _readings(name: str, shelf: Shelf, at: str) -> str:
    """Each measure and relation with its unit and who supplies it."""
    rows = []
    for reading in sorted(shelf.reads[name]):
        measure = shelf.library.vocabulary.measures.get(reading)
        thing = measure or shelf.library.vocabulary.relations[reading]
        supplied = ", ".join(supplier.value for supplier in thing.suppliers)
        rows.append((link(reading, shelf.where(reading), at), plain(unit_of(thing)), supplied))
    return table(("reading", "in", "from"), rows)


def _examples(name: str, shelf: Shelf) -> str:
    """Every case: what is given and what must come out."""
    rows = [
        (plain(example.title), _coded(given_lines(example)), _coded(map(then_text, example.thens)))
        for example in shelf.library.examples
        if example.rule == name
    ]
    return table(("case", "given", "then"), rows)


def _coded(lines: Iterable[str]) -> str:
    """Lines as they are written, one below the other."""
    return "<br>".join(f"`{line.replace(HARD_SPACE, ' ')}`" for line in lines)


def _relatives(name: str, shelf: Shelf, at: str) -> str:
    """Other rules that look at a reading of this one, those that share most first."""
    shared = {
        other: len(found & shelf.reads[name])
        for other, found in shelf.reads.items()
        if other != name and found & shelf.reads[name]
    }
    nearest = sorted(shared, key=lambda other: (-shared[other], other))[:8]
    return ", ".join(link(other, shelf.where(other), at) for other in nearest)
