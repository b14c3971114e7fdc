"""``advisor rules check``: every problem of the rule files."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.cli.output import Output
from advisor.errors import Problem, Severity, unusable

if TYPE_CHECKING:
    from advisor.model.fixes import FileFix


def options(parser: argparse.ArgumentParser) -> None:
    """Add which files to check, and whether to mend them."""
    parser.add_argument(
        "files", metavar="FILE", nargs="*", type=Path, help="rule files or folders of them; all, if left out"
    )
    parser.add_argument(
        "--fix", action="store_true", help="first mend what cannot change a verdict, and say what"
    )


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Print every problem of the rule files; 2 if they cannot be used, 1 if something is to be looked at."""
    from advisor import api
    from advisor.reports.as_json import Json, document_json
    from advisor.reports.fixes import fixes_page
    from advisor.reports.page import Tone, line
    from advisor.reports.reaches import reach_lines
    from advisor.reports.wording import counted

    house = (*api.house_rules(arguments.tank), *arguments.house)
    fixes = _fixed((*arguments.files, *house)) if arguments.fix else ()
    problems, counts = _told(arguments, house)
    out.problems(problems)
    read = ", ".join(counted(number, name) for name, number in counts.items())
    verdict = counted(len(problems), "problem") if problems else "nothing to mend"
    broken = any(problem.severity is Severity.ERROR for problem in problems)
    reaches = (
        ()
        if broken
        else api.rule_reaches(rules=arguments.rules, house=house, on=arguments.on or date.today())
    )
    page = (
        *(fixes_page(fixes) if arguments.fix else ()),
        line(f"{read}: {verdict}.", Tone.BAD if problems else Tone.GOOD),
        *reach_lines(reaches, each=out.level >= 2),
    )
    content: dict[str, Json] = {"counts": dict(counts), "problems": len(problems), "asked of": dict(reaches)}
    if arguments.fix:
        content["fixed"] = [fix.model_dump(mode="json") for fix in fixes]
    out.document(document_json("rules check", content), page)
    if broken:
        return 2
    return 1 if any(problem.severity is Severity.WARNING for problem in problems) else 0


def _told(
    arguments: argparse.Namespace, house: Sequence[Path]
) -> tuple[tuple[Problem, ...], Mapping[str, int]]:
    """Every problem of the files, and of house lines that come to nothing in the tank; and what was read."""
    from advisor import api

    day = arguments.on or date.today()
    found, counts = api.check_rules(arguments.files or None, rules=arguments.rules, house=house, on=day)
    here = api.house_in_tank(arguments.tank, on=day, rules=arguments.rules, house=arguments.house)
    told = {(problem.span.file, problem.span.line) for problem in found if problem.span is not None}
    # a line with a fault of its own is told once
    idle = [each for each in here if each.span is None or (each.span.file, each.span.line) not in told]
    return (*found, *idle), counts


def _fixed(files: Sequence[Path]) -> Sequence[FileFix]:
    """Mend the files; the rules that came along are never among them unless they are named."""
    from advisor import api

    if not files:
        raise unusable(
            (
                Problem(
                    "command-106",
                    "--fix needs a file: the rules that came along are not rewritten unasked",
                    mend="advisor rules check --fix house.rules",
                ),
            )
        )
    return api.fix_files(files)
