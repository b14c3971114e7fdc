"""``advisor rules fmt``: rule files in their one form."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.cli.output import Output, write
from advisor.errors import Problem, unusable

if TYPE_CHECKING:
    from advisor.rulework.formatting import Formatted

STDIN = Path("-")
"""Stands for the text that is piped in."""


def options(parser: argparse.ArgumentParser) -> None:
    """Add which files to print anew, and whether only to look."""
    parser.add_argument(
        "files",
        metavar="FILE",
        nargs="*",
        type=Path,
        help="rule files or folders of them, or - for a text piped in; the tank's own, if left out",
    )
    parser.add_argument("--check", action="store_true", help="write nothing, only say which would change")


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Put files into their one form; 1 if with --check one is not, 2 if one had to be left alone."""
    from advisor import api
    from advisor.reports.as_json import Json, document_json
    from advisor.reports.page import Block, Tone, labelled, line
    from advisor.reports.wording import counted

    if arguments.files == [STDIN]:
        return _piped(out)
    files = arguments.files or list(api.house_rules(arguments.tank))
    if not files:
        what = "there is no rule file of your own here"
        raise unusable((Problem("command-106", what, mend="advisor rules fmt house.rules"),))
    done = api.format_files(files, write=not arguments.check)
    out.problems([problem for each in done for problem in each.problems])
    changed = [each.file for each in done if each.changed]
    left = [each.file for each in done if each.problems]
    label, end = ("CHANGES", "would change") if arguments.check else ("WRITTEN", "changed")
    ends = {each.file: " (its line ends, too: CRLF to LF)" if each.line_ends else "" for each in done}
    lines: list[Block] = [labelled(label, file + ends[file], Tone.GOOD, width=10) for file in changed]
    lines += [labelled("LEFT", f"{file}: {_why(done, file)}", Tone.OPEN, width=10) for file in left]
    lines.append(line(f"{counted(len(done), 'file')}: {len(changed)} {end}."))
    told: dict[str, Json] = {"changed": list(changed), "left": list(left), "files": len(done)}
    out.document(document_json("rules fmt", told), tuple(lines))
    if left:
        return 2
    return 1 if arguments.check and changed else 0


def _why(done: Sequence[Formatted], file: str) -> str:
    """Why a file was left alone."""
    found = next(each for each in done if each.file == file)
    return found.problems[0].what


def _piped(out: Output) -> int:
    """Print what is piped in, in its one form; unchanged where it has an error."""
    from advisor import api

    done = api.format_text("-", sys.stdin.read())
    out.problems(done.problems)
    write(out.out, done.text)
    return 2 if done.problems else 0
