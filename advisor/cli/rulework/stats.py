"""``advisor rules stats``: what the shipped knowledge rests on."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from advisor.cli.output import Output


def options(parser: argparse.ArgumentParser) -> None:
    """Add the tanks whose dangers are counted."""
    parser.add_argument(
        "folders", metavar="DIR", nargs="*", type=Path, help="tanks whose dangers rank single values"
    )


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print what is known by how well it is known; 1 if no example decides some rule."""
    from advisor import api
    from advisor.reports.statistics import statistics_page

    house = (*api.house_rules(arguments.tank), *arguments.house)
    folders = arguments.folders or [arguments.tank or Path.cwd()]
    tanks = [folder for folder in folders if arguments.folders or (folder / "tank.yaml").is_file()]
    with out.busy("running the examples"):
        answer = api.rule_statistics(
            tanks, rules=arguments.rules, house=house, on=arguments.on or date.today()
        )
    out.answer(answer, statistics_page(answer, out.level))
    return 1 if answer.never_decided else 0
