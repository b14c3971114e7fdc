"""``advisor rules editor``: what a text editor needs to know of rule files."""

from __future__ import annotations

import argparse
from importlib.util import find_spec

from advisor.cli.output import Output, write
from advisor.errors import Problem, unusable

_HOW = """\
Colours     save what 'advisor rules editor --colours' prints as
            coral-rules.tmLanguage.json and give it to your editor; it is a
            TextMate grammar. Pygments finds the files by their ending.
Help        let your editor start 'advisor rules editor --serve' for files that
            end in .rules; it speaks the Language Server Protocol. Install it
            with: pip install "coral-advisor[editor]"
"""


def options(parser: argparse.ArgumentParser) -> None:
    """Add what to print or start."""
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--serve", action="store_true", help="answer an editor on stdin and stdout")
    which.add_argument("--colours", action="store_true", help="print a TextMate grammar")


def run(arguments: argparse.Namespace, out: Output) -> int:
    """Start the language server, print the grammar, or tell how to set an editor up."""
    if arguments.colours:
        from advisor.editors.textmate import textmate_grammar

        write(out.out, textmate_grammar())
    elif arguments.serve:
        require_server()
        from advisor.editors.server import make_server

        make_server().start_io()
    else:
        write(out.out, _HOW)
    return 0


def require_server() -> None:
    """Make sure the language server's library is there.

    Raises
    ------
    UnusableInput
        If it is not installed, with what to type.
    """
    if find_spec("pygls") is None:
        what = "the language server is not installed"
        raise unusable((Problem("command-110", what, mend='pip install "coral-advisor[editor]"'),))
