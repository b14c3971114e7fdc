"""``advisor rules cover``: what the examples reach."""

from __future__ import annotations

import argparse
from datetime import date

from advisor.cli.output import Output


def options(parser: argparse.ArgumentParser) -> None:
    """Add which rules to look at closely."""
    parser.add_argument(
        "names",
        metavar="RULE|FILE",
        nargs="*",
        help="rules, preferences, definitions or rule files to show with text, marks, gaps and examples",
    )


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print what the examples reach; 1 if something is never shown."""
    from advisor import api
    from advisor.reports.coverage import coverage_page

    house = (*api.house_rules(arguments.tank), *arguments.house)
    with out.busy("running the examples"):
        day = arguments.on or date.today()
        answer = api.cover_rules(arguments.names, rules=arguments.rules, house=house, on=day)
    out.answer(answer, coverage_page(answer, out.level))
    return 0 if answer.total.seen == answer.total.needed else 1
