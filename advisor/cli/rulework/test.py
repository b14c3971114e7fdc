"""``advisor rules test``: run the examples in the rule files."""

from __future__ import annotations

import argparse

from advisor.cli.output import Output


def options(parser: argparse.ArgumentParser) -> None:
    """Add nothing: all examples are run."""
    del parser


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Run every example and print those that do not come out as they say."""
    from advisor import api
    from advisor.model.results import ExamplesAnswer
    from advisor.reports.as_json import model_json
    from advisor.reports.examples import examples_page

    results = api.run_examples(rules=arguments.rules, house=arguments.house)
    lines = model_json(ExamplesAnswer(examples=tuple(results)))
    out.document(lines, examples_page(results, out.level, short=out.short))
    return 0 if results and all(result.ok for result in results) else 1
