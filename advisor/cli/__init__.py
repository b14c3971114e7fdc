"""The command line: arguments in, text or JSON out, an exit code; computes nothing."""

from advisor.cli.program import main

__all__ = ["main"]
