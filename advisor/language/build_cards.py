"""Coral cards out of the parser's tree: each line becomes values with keys, each with its ground."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.language.build import (
    Site,
    amount,
    band,
    base,
    branches,
    joined,
    name_of,
    named,
    source,
    tokens,
    unquoted,
    words,
)
from advisor.language.mends import card_line
from advisor.language.nodes import Card, CardValue, Number
from advisor.model.vocabulary import Source

if TYPE_CHECKING:
    from advisor.language.build import Branch


def card(site: Site, tree: Branch) -> Card:
    """Return what one card says."""
    titles = tokens(tree, "STRING")
    also: list[str] = []
    values: list[CardValue] = []
    grounds: list[tuple[Source, Branch]] = []
    for line in named(tree, "card_line"):
        head = line.children[0]
        if not isinstance(head, str):
            grounds.append((source(site, head), line))
        elif head == "also":
            also.extend(unquoted(str(token)) for token in tokens(line, "STRING"))
        else:
            values.extend(_values(site, str(head), line))
    for _, line in grounds[1:]:
        site.say(
            "card-903",
            "this card names its own source twice",
            line,
            "the first one counts",
            "indent it deeper to make it the source of the line above",
        )
    name = name_of(tree)
    return Card(
        site.span(tree.children[0], tree.children[1]),
        name,
        unquoted(str(titles[0])) if titles else name.replace("-", " "),
        tuple(also),
        tuple(values),
        grounds[0][0] if grounds else None,
    )


def _values(site: Site, head: str, line: Branch) -> list[CardValue]:
    """The values of one line; its source is the ground of each."""
    sources = named(line, "source")
    ground = source(site, sources[0]) if sources else None
    if len(sources) > 1:
        site.say(
            "card-904",
            "one line rests on one source",
            sources[1],
            "a second source",
            "write a line of its own for it",
        )
    found = _leading(site, head, line, ground)
    of = found[0].words[0] if head == "weapon" and found and found[0].words else ""
    found = [CardValue(v.span, v.key, of, v.number, v.unit, v.word, v.words, v.text, v.source) for v in found]
    for part in branches(line):
        found.extend(_part(site, head, part, of, ground))
    if not found:
        what = f"the line '{head}' says nothing"
        site.say("card-905", what, line, "no value follows", card_line(head))
    return found


def _leading(site: Site, head: str, line: Branch, ground: Source | None) -> list[CardValue]:
    """Words or names that stand right after the head."""
    span = site.span(line)
    if head == "taxon":
        return [CardValue(span, head, words=(unquoted(str(tokens(line, "STRING")[0])),), source=ground)]
    names = words(line)
    for group in named(line, "words"):
        names += words(group)
    return [CardValue(span, head, words=names, source=ground)] if names else []


def _part(site: Site, head: str, part: Branch, of: str, ground: Source | None) -> list[CardValue]:
    """The values of one part of a line."""
    span = site.span(part)
    match part.data:
        case "card_text":
            key = f"{head}-text"
            return [CardValue(span, key, of, text=joined(part), source=ground)]
        case "card_number":
            return [_number(site, head, branches(part)[0], of, ground)]
        case "part_number":
            return [_number(site, f"{head}-{part.children[0]}", branches(part)[0], of, ground)]
        case "part_band":
            return _band(site, f"{head}-{part.children[0]}", branches(part)[0], of, ground)
        case "part_words":
            lists = named(part, "words")
            found = words(lists[0]) if lists else words(part)
            return [CardValue(span, f"{head}-{part.children[0]}", of, words=found, source=ground)]
        case _:
            return []


def _number(site: Site, key: str, tree: Branch, of: str, ground: Source | None) -> CardValue:
    """One number in its base unit."""
    return _value(site, key, amount(site, tree), tree, of, ground)


def _value(site: Site, key: str, number: Number, tree: Branch, of: str, ground: Source | None) -> CardValue:
    """A card value made of a literal."""
    return CardValue(site.span(tree), key, of, base(number), number.unit, source=ground)


def _band(site: Site, key: str, tree: Branch, of: str, ground: Source | None) -> list[CardValue]:
    """Both ends of ``best 80 to 150 PAR``; one number is both."""
    low, high = band(site, tree) if tree.data == "band" else (amount(site, tree),) * 2
    return [
        _value(site, f"{key}-low", low, tree, of, ground),
        _value(site, f"{key}-high", high, tree, of, ground),
    ]
