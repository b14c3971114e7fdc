"""The verbs for those who edit rules: rules check, rules test."""

from __future__ import annotations

import argparse

from advisor.cli.output import Output
from advisor.errors import Severity


def check(arguments: argparse.Namespace, out: Output) -> int:
    """Print every problem of the rule files; 2 if they cannot be used, 1 if something is to be looked at."""
    from advisor import api
    from advisor.reports.as_json import document_json
    from advisor.reports.page import Tone, line
    from advisor.reports.reaches import reach_lines
    from advisor.reports.wording import counted

    house = (*api.house_rules(arguments.tank), *arguments.house)
    problems, counts = api.check_rules(arguments.files or None, rules=arguments.rules, house=house)
    out.problems(problems)
    read = ", ".join(counted(number, name) for name, number in counts.items())
    verdict = counted(len(problems), "problem") if problems else "nothing to mend"
    broken = any(problem.severity is Severity.ERROR for problem in problems)
    reaches = () if broken else api.rule_reaches(rules=arguments.rules, house=house)
    page = (
        line(f"{read}: {verdict}.", Tone.BAD if problems else Tone.GOOD),
        *reach_lines(reaches, each=out.level >= 2),
    )
    out.document(
        document_json(
            "rules check", {"counts": dict(counts), "problems": len(problems), "asked of": dict(reaches)}
        ),
        page,
    )
    if broken:
        return 2
    return 1 if any(problem.severity is Severity.WARNING for problem in problems) else 0


def test(arguments: argparse.Namespace, out: Output) -> int:
    """Run every example and print those that do not come out as they say."""
    from advisor import api
    from advisor.model.results import ExamplesAnswer
    from advisor.reports.as_json import model_json
    from advisor.reports.examples import examples_page

    results = api.run_examples(rules=arguments.rules, house=arguments.house)
    lines = model_json(ExamplesAnswer(examples=tuple(results)))
    out.document(lines, examples_page(results, out.level, short=out.short))
    return 0 if results and all(result.ok for result in results) else 1
