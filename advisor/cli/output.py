"""Where text goes: answers to stdout, problems to stderr, plain or coloured, or JSON."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TextIO

from advisor.errors import Problem

if TYPE_CHECKING:
    from advisor.model.tank import Model
    from advisor.reports.page import Page
    from advisor.reports.printer import Look

_NARROWEST = 40


@dataclass
class Output:
    """The two streams of one command and how to write to them."""

    json: bool = False
    plain: bool = False
    short: bool = False
    level: int = 1
    out: TextIO = field(default_factory=lambda: sys.stdout)
    err: TextIO = field(default_factory=lambda: sys.stderr)
    _answers: int = 0

    def answer(self, model: Model, page: Page) -> None:
        """Print one answer; several are parted by an empty line."""
        from advisor.reports.as_json import model_json

        self.document(model_json(model), page)

    def document(self, as_json: str, page: Page) -> None:
        """Print one answer that is given in both forms."""
        if self.json:
            write(self.out, as_json + "\n")
        else:
            self.page(page)

    def page(self, page: Page) -> None:
        """Print a page; the next one is parted from it by an empty line."""
        from advisor.reports.printer import render

        gap = "\n" if self._answers else ""
        self._answers += 1
        write(self.out, gap + render(page, look_of(self.out, self.plain)))

    def busy(self, text: str) -> AbstractContextManager[object]:
        """Show a quiet line on stderr while something takes its time; nothing where nobody watches."""
        if self.json or self.plain or not self.err.isatty():
            return nullcontext()
        from rich.console import Console

        return Console(file=self.err).status(text)

    @contextmanager
    def progress(self, text: str) -> Iterator[Callable[[int, int], None]]:
        """Yield what is told how much of how many is done, and shows it on stderr where somebody watches."""
        if self.json or self.plain or not self.err.isatty():
            yield lambda done, of: None
            return
        from rich.console import Console

        with Console(file=self.err).status(text) as status:
            yield lambda done, of: status.update(f"{text}: {done} of {of}")

    def problems(self, problems: Sequence[Problem]) -> None:
        """Print problems, if there are any."""
        if not problems:
            return
        if self.json:
            from advisor.reports.as_json import problems_json

            write(self.err, problems_json(problems) + "\n")
            return
        from advisor.reports.printer import render
        from advisor.reports.problems import problems_page

        look = look_of(self.err, self.plain)
        write(self.err, render(problems_page(problems, short=self.short), look))


def look_of(stream: TextIO, plain: bool) -> Look:
    """Return how to show a page on this stream."""
    from advisor.reports.printer import WIDTH, Look

    terminal = stream.isatty()
    colour = terminal and not plain and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    width = min(WIDTH, max(_NARROWEST, shutil.get_terminal_size((WIDTH, 24)).columns)) if terminal else WIDTH
    return Look(width, colour, is_unicode(stream))


def is_unicode(stream: TextIO) -> bool:
    """Return whether any letter can be written to this stream."""
    return (stream.encoding or "").lower().replace("-", "").replace("_", "").startswith("utf")


def write(stream: TextIO, text: str) -> None:
    """Write and flush; a reader that has gone away is no fault of ours."""
    safe = text.encode("utf-8", "replace").decode("utf-8")
    if not is_unicode(stream):
        safe = safe.encode("ascii", "backslashreplace").decode("ascii")
    try:
        stream.write(safe)
        stream.flush()
    except BrokenPipeError:
        _close_quietly(stream)


def _close_quietly(stream: TextIO) -> None:
    """Point the stream at nothing, so that neither we nor the interpreter complain at exit."""
    nothing = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nothing, stream.fileno())
    os.close(nothing)
