"""``advisor rules mutate``: which small changes of the rules no example notices."""

from __future__ import annotations

import argparse
from datetime import date

from advisor.cli.output import Output


def options(parser: argparse.ArgumentParser) -> None:
    """Add which rules to change, and how often."""
    parser.add_argument(
        "names",
        metavar="RULE|FILE",
        nargs="*",
        help="rules, preferences, definitions or rule files; all, if left out",
    )
    parser.add_argument(
        "--most", type=_count, metavar="N", help="at most N changes of each, spread evenly over all"
    )


def _count(text: str) -> int:
    if text.isdigit() and int(text) > 0:
        return int(text)
    raise argparse.ArgumentTypeError(f"'{text}' is not a number of changes")


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print the changes no example notices; 1 if there are any."""
    from advisor import api
    from advisor.reports.mutation import mutation_page

    house = (*api.house_rules(arguments.tank), *arguments.house)
    with out.progress("changes tried") as told:
        answer = api.mutate_rules(
            arguments.names,
            most=arguments.most,
            rules=arguments.rules,
            house=house,
            on=arguments.on or date.today(),
            told=told,
        )
    out.answer(answer, mutation_page(answer, out.level, short=out.short))
    return 1 if answer.survivors else 0
