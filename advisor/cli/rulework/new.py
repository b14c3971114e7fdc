"""``advisor rules new``: the draft of a rule or a card, put where it belongs."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor.cli.output import Output
from advisor.errors import Problem, unusable


def options(parser: argparse.ArgumentParser) -> None:
    """Add what to make, its name, and what must be known of it."""
    parser.add_argument("thing", metavar="rule|card", choices=("rule", "card"))
    parser.add_argument("name", metavar="NAME", help="small letters, digits and hyphens")
    parser.add_argument(
        "--about",
        metavar="WHOM",
        default="coral c, neighbour n of c",
        help='of a rule: "coral c", "place p", "tank", "coral c, neighbour n of c"',
    )
    parser.add_argument("--taxon", metavar="NAME", default="", help="of a card: its scientific name")
    parser.add_argument("--group", metavar="WORD", default="", help="of a card: small-polyp, soft, clam …")
    parser.add_argument("--title", metavar="TEXT", default="", help="of a card: its name in plain words")
    parser.add_argument("--to", metavar="FILE", type=Path, help="own.rules in the tank's folder, if left out")


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Write the draft and say where it stands and what to do next."""
    from advisor import api
    from advisor.reports.as_json import Json, document_json
    from advisor.reports.page import Tone, labelled
    from advisor.rulework.scaffold import require_target

    house = (*api.house_rules(arguments.tank), *arguments.house)
    to = arguments.to or api.own_rules(arguments.tank)
    if arguments.to is not None:
        require_target(arguments.to, arguments.tank, house)
    if arguments.thing == "rule":
        draft = api.new_rule(arguments.name, arguments.about, to, house=house, rules=arguments.rules)
    else:
        title = arguments.title or arguments.name.replace("-", " ")
        taxon, group = _told(arguments, "taxon"), _told(arguments, "group")
        draft = api.new_card(arguments.name, title, taxon, group, to, house=house, rules=arguments.rules)
    page = (
        labelled(
            "WRITTEN", f"{arguments.thing} {draft.name}, {draft.file}, line {draft.line}", Tone.GOOD, width=10
        ),
        labelled("NEXT", _next(arguments.thing, draft.name), width=10),
    )
    told: dict[str, Json] = {
        "name": draft.name,
        "file": draft.file.as_posix(),
        "line": draft.line,
        "text": draft.text,
    }
    out.document(document_json("rules new", told), page)
    return 0


def _told(arguments: argparse.Namespace, word: str) -> str:
    """A word a card cannot do without."""
    text: str = getattr(arguments, word)
    if text:
        return text
    example = 'advisor rules new card my-brain --taxon "Platygyra lamellina" --group large-polyp'
    raise unusable((Problem("command-101", f"a card needs --{word}", mend=example),))


def _next(thing: str, name: str) -> str:
    """What to do once the draft is there."""
    if thing == "card":
        return f"Fill in what you know, then: advisor rules check, advisor card {name}"
    return f"Put your own words and numbers in, then: advisor rules check, advisor rules test --only {name}"
