"""``advisor rules test``: run the examples in the rule files."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from time import perf_counter

from advisor.cli.output import Output


def options(parser: argparse.ArgumentParser) -> None:
    """Add which examples to run."""
    parser.add_argument(
        "files",
        metavar="FILE",
        nargs="*",
        type=Path,
        help="rule files, shipped or your own; all, if left out",
    )
    parser.add_argument(
        "--only",
        metavar="RULE|TITLE",
        action="append",
        default=[],
        help="only a rule's examples, or those so called; may be given again",
    )


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print the examples that do not come out as they say; 1 if there are any, or none was run."""
    from advisor import api
    from advisor.reports.as_json import model_json
    from advisor.reports.examples import examples_page

    began = perf_counter()
    answer = api.run_examples(
        arguments.files,
        only=arguments.only,
        rules=arguments.rules,
        house=arguments.house,
        own=api.house_rules(arguments.tank),
        on=arguments.on or date.today(),
    )
    took = perf_counter() - began
    page = examples_page(answer, out.level, short=out.short, seconds=took if out.out.isatty() else None)
    out.document(model_json(answer), page)
    return 0 if answer.examples and all(result.ok for result in answer.examples) else 1
