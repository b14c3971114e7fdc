"""Which verbs follow ``advisor rules``, and where each lives."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from importlib import import_module
from typing import Protocol, cast

from advisor.cli.output import Output

VERBS: dict[str, str] = {
    "check": "read rule files and show every problem",
    "test": "run the examples in the rule files",
    "fmt": "put rule files into their one form, every comment kept",
    "cover": "what the examples reach, and what they never show",
    "mutate": "which small changes of the rules no example notices",
    "lint": "find rules that can never speak, contradict each other or are never used",
    "diff": "what another set of rules changes, for the examples and your tank",
    "stats": "what the knowledge rests on, and which values to trust least",
    "doc": "a page for each rule, card and reading",
    "new": "the draft of a rule or a card, sound as it stands",
    "editor": "colours and help for text editors",
}
"""Each verb and what it does; its module in this package has the same name."""


class Tool(Protocol):
    """What a module of this package offers."""

    options: Callable[[argparse.ArgumentParser], None]
    """Add the verb's own words and options to its parser."""
    run: Callable[[argparse.Namespace, Output], int]
    """Do the work, print it, and return the exit code."""


def tool(verb: str) -> Tool:
    """Return the module of a verb of `VERBS`."""
    module = import_module(f"advisor.cli.rulework.{verb}")
    return cast(Tool, module)  # a module that offers both functions; tests/cli/rulework/test_registry.py
