"""The verb that tells the light at a point: light."""

from __future__ import annotations

import argparse

from advisor.cli.output import Output
from advisor.cli.questions import open_session
from advisor.errors import Problem, unusable


def light(arguments: argparse.Namespace, out: Output) -> int:
    """Print the light at each place, or what the readings say of the lamps.

    0 where all is known and readings agree; 1 where something is not.
    """
    from advisor.reports.light import light_fit_page, light_page

    if arguments.fit and (arguments.places or arguments.lamp):
        what = "--fit is about the whole tank as it is: it takes no place and no --lamp"
        raise unusable((Problem("command-108", what, mend="advisor light --fit"),))
    session = open_session(arguments, out)
    if arguments.fit:
        fitted = session.light_fit()
        out.answer(fitted, light_fit_page(fitted, out.level))
        return 1 if fitted.missing or any(each.odd for each in fitted.readings) else 0
    if not arguments.places:
        what = "the light of which place?"
        raise unusable((Problem("command-108", what, mend="advisor light ledge, or advisor light --fit"),))
    sure = True
    for place in arguments.places:
        with out.busy("reckoning the light"):
            answer = session.light(place, arguments.lamp)
        out.answer(answer, light_page(answer, out.level))
        sure = sure and not answer.missing and answer.agrees is not False
    return 0 if sure else 1
