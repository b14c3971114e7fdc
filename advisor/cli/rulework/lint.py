"""``advisor rules lint``: what speaks against rules that are well written."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from advisor.cli.output import Output


def options(parser: argparse.ArgumentParser) -> None:
    """Add whose findings to show."""
    parser.add_argument(
        "files", metavar="FILE", nargs="*", type=Path, help="only what is found in these; all, if left out"
    )


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print every finding; 1 if one of them is more than a note."""
    from advisor import api
    from advisor.reports.as_json import model_json
    from advisor.reports.lint import lint_page

    house = (*api.house_rules(arguments.tank), *arguments.house)
    with out.busy("looking into the rules"):
        answer = api.lint_rules(
            arguments.files,
            rules=arguments.rules,
            house=house,
            tank=arguments.tank,
            on=arguments.on or date.today(),
        )
    out.document(model_json(answer), lint_page(answer, out.level, short=out.short))
    return 1 if any(each.counts for each in answer.findings) else 0
