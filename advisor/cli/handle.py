"""The verb that looks after people: handle."""

from __future__ import annotations

import argparse
from datetime import date

from advisor.cli.output import Output
from advisor.cli.questions import given_options


def handle(arguments: argparse.Namespace, out: Output) -> int:
    """Print the handling sheet of a coral, or what is told of what somebody is about to do.

    0 where nothing was refused; 1 where something was, or nothing was recognised.
    """
    from advisor import api
    from advisor.reports.handling import handling_page

    answer = api.handle(
        " ".join(arguments.coral),
        " ".join(arguments.to),
        on=arguments.on or date.today(),
        folder=arguments.tank,
        house=tuple(arguments.house),
        rules=arguments.rules,
    )
    answer = answer.model_copy(update={"given": given_options(arguments)})
    out.answer(answer, handling_page(answer, out.level))
    return 1 if answer.refused or answer.not_recognised else 0
