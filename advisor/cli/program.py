"""One run of the program: from the words typed to the exit code."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence

from advisor.cli.arguments import build_parser, each_opened, require_known_verb
from advisor.cli.output import Output, write
from advisor.errors import AdvisorError, Problem, UnusableInput

NOTHING_TO_CHANGE = 0
FINDINGS = 1
UNUSABLE = 2
INTERRUPTED = 130

START = """\
advisor tank new my-tank   asks a few questions and makes a tank folder
cd my-tank                 then ask there: advisor where CORAL, advisor audit
advisor --help             shows every verb; advisor card CORAL needs no tank
"""

Command = Callable[[argparse.Namespace, Output], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program with these words (default: those typed) and return its exit code."""
    words = list(sys.argv[1:] if argv is None else argv)
    out = Output(json="--json" in words, plain="--plain" in words, short="--short" in words)
    try:
        return _run(words, out)
    except KeyboardInterrupt:
        return INTERRUPTED
    except UnusableInput as fault:
        out.problems(fault.problems or (Problem("input-100", str(fault)),))
        if _outside(fault) and not (out.json or out.short):
            write(out.err, "\n" + START)
    except AdvisorError as fault:
        out.problems((Problem("input-101", str(fault)), *fault.problems))
    except OSError as fault:
        out.problems((_file_problem(fault),))
    except Exception as fault:
        if os.environ.get("ADVISOR_DEBUG"):
            raise
        out.problems((_own_fault(fault),))
    return UNUSABLE


def _run(words: list[str], out: Output) -> int:
    if not words:
        write(out.out, START)
        return NOTHING_TO_CHANGE
    require_known_verb(words)
    try:
        arguments = build_parser().parse_args(each_opened(words))
    except SystemExit as asked_for_help:
        return asked_for_help.code if isinstance(asked_for_help.code, int) else NOTHING_TO_CHANGE
    out.json, out.plain = arguments.json, arguments.plain
    out.short, out.level = arguments.short, arguments.level
    return command_for(arguments)(arguments, out)


def command_for(arguments: argparse.Namespace) -> Command:
    """Return the function behind a verb; only its module is loaded."""
    match arguments.verb:
        case "rules":
            from advisor.cli.rulework.registry import tool

            return tool(arguments.subverb).run
        case "tank":
            from advisor.cli import tank

            return tank.COMMANDS[arguments.subverb]
        case "handle":
            from advisor.cli.handle import handle

            return handle
        case "light":
            from advisor.cli.light import light

            return light
        case "explain" | "schema":
            from advisor.cli import words

            return words.explain if arguments.verb == "explain" else words.schema
        case _:
            from advisor.cli import questions

            return questions.COMMANDS[arguments.verb]


def _outside(fault: UnusableInput) -> bool:
    return any(problem.code == "tank-100" for problem in fault.problems)


def _file_problem(fault: OSError) -> Problem:
    from advisor.tankfiles.sources import mend_of_access

    name = f"'{fault.filename}': " if fault.filename else ""
    mend = mend_of_access(fault, str(fault.filename)) if fault.filename else ""
    return Problem("files-100", f"{name}{fault.strerror or fault}", mend=mend)


def _own_fault(fault: Exception) -> Problem:
    return Problem(
        "advisor-900",
        f"the advisor itself failed ({type(fault).__name__}); this is its fault, not yours",
        mend="set ADVISOR_DEBUG=1 and run it again, then report what it shows",
    )
