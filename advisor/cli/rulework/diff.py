"""``advisor rules diff``: what one set of rules says otherwise than another."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from advisor.cli.output import Output

SHIPPED = "shipped"


def options(parser: argparse.ArgumentParser) -> None:
    """Add the two sides, and further tanks to ask."""
    parser.add_argument(
        "sides",
        metavar="A B",
        nargs="+",
        help="folders of rules, house files or the word shipped; one alone is compared with shipped",
    )
    parser.add_argument(
        "--tanks", metavar="DIR", nargs="+", type=Path, default=[], help="more tank folders to ask"
    )


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print what is written otherwise and what is answered otherwise; 1 if any answer changes."""
    from advisor import api
    from advisor.errors import Problem, unusable
    from advisor.reports.as_json import model_json
    from advisor.reports.difference import difference_page

    sides = [SHIPPED, *arguments.sides] if len(arguments.sides) == 1 else arguments.sides
    if len(sides) != 2:
        what = "rules diff compares two sets of rules"
        raise unusable((Problem("command-107", what, mend="advisor rules diff shipped house.rules"),))
    with out.progress("comparing the rules") as told:
        answer = api.diff_rules(
            sides[0],
            sides[1],
            rules=arguments.rules,
            house=arguments.house,
            tanks=api.tanks_asked(arguments.tank, arguments.tanks),
            on=arguments.on or date.today(),
            progress=told,
        )
    out.document(model_json(answer), difference_page(answer, out.level, short=out.short))
    return 1 if any(flip.answers_change for flip in answer.flips) else 0
