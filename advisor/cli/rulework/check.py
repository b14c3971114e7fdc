"""``advisor rules check``: every problem of the rule files."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor.cli.output import Output
from advisor.errors import Severity


def options(parser: argparse.ArgumentParser) -> None:
    """Add which files to check."""
    parser.add_argument("files", metavar="FILE", nargs="*", type=Path, help="all rule files, if left out")


def run(arguments: argparse.Namespace, out: Output) -> int:
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
