"""What can be typed: verbs, options, and a helping word where a verb is misspelt."""

from __future__ import annotations

import argparse
import difflib
import re
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TypeAlias

from advisor.cli.rulework.registry import VERBS as RULE_VERBS
from advisor.cli.rulework.registry import tool
from advisor.errors import Problem, UnusableInput, unusable

VERBS: dict[str, str] = {
    "where": "where a coral should go, for tonight and for good",
    "why": "what decides about a coral where it stands, or at a spot",
    "why-not": "why a coral may not stand at a spot, and what would change that",
    "audit": "what is wrong in the tank now, and what will go wrong",
    "card": "what a coral needs, who says so, and how sure that is",
    "light": "how bright it is at a place, with its error and what that rests on",
    "handle": "how to handle a coral without harm to yourself, and what never to do",
    "rules": "work on rule files: check, test and more",
    "tank": "make, check and change a tank folder without an editor",
    "explain": "what a problem code or a word of an answer means",
    "schema": "the published form of tank files, journal lines and answers",
}
SUBVERBS: dict[str, dict[str, str]] = {
    "rules": RULE_VERBS,
    "tank": {
        "new": "make a tank folder: a few questions and a pasted list of corals",
        "check": "read the tank folder and show every problem",
        "add": "add a coral, a spot or a reading",
        "move": "move a coral to a spot",
    },
}
THINGS: dict[str, str] = {
    "coral": "a coral, placed or still waiting",
    "spot": "a place that can hold one",
    "reading": "something measured or looked at",
}
SCHEMAS = ("tank", "event", "answer")
if TYPE_CHECKING:
    _Verbs: TypeAlias = argparse._SubParsersAction["Parser"]  # its only name
    _Adder: TypeAlias = Callable[[str], "Parser"]

_EXITS = """\
exit codes: 0 nothing to change, 1 findings or no sure yes,
            2 the command or the files cannot be used"""


_EXAMPLES: dict[str, str] = {
    "why": "advisor why CORAL SPOT",
    "why-not": "advisor why-not CORAL SPOT",
    "card": "advisor card torch",
    "handle": 'advisor handle torch --to "cut the plug"',
    "tank new": "advisor tank new my-tank",
    "tank check": "advisor tank check",
    "tank move": "advisor tank move CORAL SPOT",
    "tank add": "advisor tank add coral torch",
    "tank add coral": 'advisor tank add coral torch --size "8 cm"',
    "tank add spot": 'advisor tank add spot ledge --at "left, back, high"',
    "tank add reading": 'advisor tank add reading SPOT light "118 PAR"',
}
"""One line that works for each verb that must be given something; in capitals what is a tank's own."""


class Parser(argparse.ArgumentParser):
    """A parser that raises what is wrong as a problem instead of leaving the program."""

    def error(self, message: str) -> NoReturn:
        """Raise the fault in one line, with one line that can be typed: an example, or where all is told."""
        example = _EXAMPLES.get(self.prog.removeprefix("advisor "))
        mend = example if example and "required" in message else f"{self.prog} --help"
        raise unusable((Problem("command-101", message, mend=mend),))


def _formatter(prog: str) -> argparse.HelpFormatter:
    return argparse.RawDescriptionHelpFormatter(prog, max_help_position=26, width=80)


def build_parser() -> Parser:
    """Return the whole command line."""
    parser = Parser(
        prog="advisor",
        description="Where each coral may stand in a reef tank, and why.",
        epilog=_EXITS,
        formatter_class=_formatter,
        allow_abbrev=False,
    )
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", required=True)
    common = _common_options()

    def add(verb: str) -> Parser:
        made: Parser = verbs.add_parser(
            verb, help=VERBS[verb], description=VERBS[verb] + ".", parents=[common],
            formatter_class=_formatter, epilog=_EXITS, allow_abbrev=False,
        )  # fmt: skip
        return made

    _questions(add)
    _light(add("light"))
    _handling(add("handle"))
    _about_rules(verbs, common)
    _about_tanks(verbs, common)
    explain = add("explain")
    explain.add_argument("code", metavar="CODE", nargs="*", help="such as units-201, undecided or YES")
    schema = add("schema")
    schema.add_argument("name", metavar="NAME", choices=SCHEMAS, help="tank, event or answer")
    return parser


def _common_options() -> Parser:
    common = Parser(add_help=False, allow_abbrev=False)
    group = common.add_argument_group("options of every verb")
    group.add_argument("--json", action="store_true", help="one JSON document a line")
    group.add_argument("--plain", action="store_true", help="no colour (the rule when the output is piped)")
    group.add_argument("--level", type=int, choices=range(5), default=1, metavar="0-4",
                       help="0 verdict, 1 numbers, 2 readings, 3 definitions, 4 everything")  # fmt: skip
    group.add_argument("--short", action="store_true", help="one line for each problem")
    group.add_argument("--on", type=_day, metavar="DATE", help="the day to reckon with, 2026-11-02 (today)")
    group.add_argument("--tank", type=Path, metavar="DIR", help="tank folder (this one or the nearest above)")
    group.add_argument("--house", type=Path, metavar="FILE", action="append", default=[],
                       help="house rules to lay over; may be given again")  # fmt: skip
    group.add_argument(
        "--rules", type=Path, metavar="DIR", help="other rule files than those that come along"
    )
    return common


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a date; write it as 2026-11-02") from None


def _months(text: str) -> int:
    if text.isdigit() and 0 < int(text) <= 240:
        return int(text)
    raise argparse.ArgumentTypeError(f"'{text}' is not a number of months from 1 to 240")


def _questions(add: _Adder) -> None:
    where, why, why_not, audit, card = (add(verb) for verb in ("where", "why", "why-not", "audit", "card"))
    where.add_argument("corals", metavar="CORAL", nargs="*",
                       help="id in the tank, or any coral by name; none: all that wait")  # fmt: skip
    why.add_argument("coral", metavar="CORAL")
    why.add_argument("spot", metavar="SPOT", nargs="?", help="where it stands now, if left out")
    why_not.add_argument("coral", metavar="CORAL")
    why_not.add_argument("spot", metavar="SPOT")
    audit.add_argument("folders", metavar="DIR", nargs="*", type=Path, help="several tanks in one round")
    card.add_argument("corals", metavar="CORAL", nargs="*", help="card, trade name, binomial or group")
    card.add_argument("--waiting", action="store_true", help="of every coral that waits in the tank")
    card.add_argument("--to", metavar="FILE", type=Path, help="write the cards there, print none")
    form = card.add_mutually_exclusive_group()
    form.add_argument("--html", action="store_true", help="a page to print and cut up")
    form.add_argument("--md", action="store_true", help="Markdown")
    for parser in (where, why, why_not, audit):
        parser.add_argument("--months", type=_months, metavar="N", help="how far to look ahead")
        parser.add_argument("--open", metavar="NODE", action="append", default=[],
                            help="show nodes by id or printed number: --open 3 7")  # fmt: skip


def _light(light: Parser) -> None:
    light.add_argument("places", metavar="PLACE", nargs="*", help="spot, animal or position: '40, 30, 20 cm'")
    light.add_argument("--fit", action="store_true", help="what the readings say of lamps and water")
    light.add_argument("--lamp", metavar="ID=VALUE", action="append", default=[],
                       help="as if a lamp were set otherwise: left-lamp=80%%, left-lamp=25cm")  # fmt: skip


def _handling(handle: Parser) -> None:
    handle.add_argument("coral", metavar="CORAL", nargs="+", help="id in the tank, or any coral by name")
    handle.add_argument(
        "--to", metavar="WORDS", nargs="+", default=[], help="what you are about to do with it"
    )


def _about_rules(verbs: _Verbs, common: Parser) -> None:
    inner = _nest(verbs, "rules")
    for verb in RULE_VERBS:
        tool(verb).options(_add_under(inner, "rules", verb, common))


def _about_tanks(verbs: _Verbs, common: Parser) -> None:
    inner = _nest(verbs, "tank")
    new = _add_under(inner, "tank", "new", common)
    new.add_argument("folder", metavar="DIR", type=Path)
    new.add_argument("--yes", action="store_true", help="ask nothing; a list may be piped in")
    new.add_argument("--corals", metavar="FILE", type=Path, help="the list of corals, one a line")
    _add_under(inner, "tank", "check", common)
    move = _add_under(inner, "tank", "move", common)
    move.add_argument("coral", metavar="CORAL")
    move.add_argument("spot", metavar="SPOT")
    move.add_argument("--note", default="", help="a word for the journal")
    _about_adding(_add_under(inner, "tank", "add", None), common)


def _about_adding(add: Parser, common: Parser) -> None:
    things = add.add_subparsers(dest="thing", metavar="THING", required=True)
    made = {
        name: things.add_parser(name, help=text, description=f"Add {text}.", parents=[common],
                                formatter_class=_formatter, epilog=_EXITS, allow_abbrev=False)
        for name, text in THINGS.items()
    }  # fmt: skip
    coral, spot, reading = made["coral"], made["spot"], made["reading"]
    coral.add_argument("name", metavar="CORAL", help="card, trade name or binomial")
    coral.add_argument("--id", default="", help="its id in the tank (the card and a number)")
    coral.add_argument("--spot", default="", help="where it stands; left out: it waits")
    coral.add_argument("--size", default="", help='how wide it is, "8 cm"')
    coral.add_argument("--light", default="", help='the light it comes from, "110 PAR"')
    spot.add_argument("name", metavar="SPOT", help="its id")
    spot.add_argument("--at", default="", help='"left, back, high" or "30, 20, 15 cm"')
    spot.add_argument("--light", default="", help='the light there, "118 PAR" or medium')
    reading.add_argument("subject", metavar="THING", help="a spot, a coral, two of them as a,b, or tank")
    reading.add_argument("measure", metavar="MEASURE", help="such as light, flow, gap, alkalinity")
    reading.add_argument("value", metavar="VALUE", nargs="?", default="",
                         help='"118 PAR", "12 +-1 cm", medium')  # fmt: skip
    reading.add_argument("--how", default="", help="instrument or method, or a meter by its id")
    for parser in (coral, spot):
        parser.add_argument("--set", metavar="KEY=VALUE", action="append", default=[], type=_pair,
                            help="anything else the tank file knows; may be given again")  # fmt: skip


def _pair(text: str) -> tuple[str, str]:
    key, equals, value = text.partition("=")
    if not equals or not key.strip():
        raise argparse.ArgumentTypeError(f"'{text}' is not KEY=VALUE")
    return key.strip(), value.strip()


def _nest(verbs: _Verbs, verb: str) -> _Verbs:
    parser = verbs.add_parser(verb, help=VERBS[verb], description=VERBS[verb] + ".",
                              formatter_class=_formatter, epilog=_EXITS, allow_abbrev=False)  # fmt: skip
    return parser.add_subparsers(dest="subverb", metavar="VERB", required=True)


def _add_under(inner: _Verbs, verb: str, subverb: str, common: Parser | None) -> Parser:
    text = SUBVERBS[verb][subverb]
    return inner.add_parser(subverb, help=text, description=text + ".", parents=[common] if common else [],
                            formatter_class=_formatter, epilog=_EXITS, allow_abbrev=False)  # fmt: skip


_NODE = re.compile(r"[goa]?\d+([./].*)?|[a-z][a-z0-9-]*\(.*")
"""What a number or an id of a node looks like; no coral, spot or folder of a tank does."""


def each_opened(given: Sequence[str]) -> list[str]:
    """Return the words typed with ``--open 3 7`` as ``--open 3 --open 7``; what is no node stays itself.

    >>> each_opened(["why", "--open", "3", "7", "torch-1"])
    ['why', '--open', '3', '--open', '7', 'torch-1']
    """
    out: list[str] = []
    opened = False
    for word in given:
        if opened and _NODE.fullmatch(word):
            out += [word] if out[-1] == "--open" else ["--open", word]
            continue
        opened = word == "--open" or (opened and bool(out) and out[-1] == "--open")
        out.append(word)
    return out


def require_known_verb(given: Sequence[str]) -> None:
    """Raise with the nearest word where a verb, or the verb after it, is not known.

    Raises
    ------
    UnusableInput
        If the first word is no verb, or the second none of a verb that has its own.
    """
    words = [word for word in given if not word.startswith("-")]
    if not words or given[0].startswith("-"):
        return
    _require(words[0], VERBS, "advisor")
    if words[0] not in SUBVERBS or len(words) < 2:
        return
    _require(words[1], SUBVERBS[words[0]], f"advisor {words[0]}")
    if words[:2] == ["tank", "add"] and len(words) > 2:
        _require(words[2], THINGS, "advisor tank add")


def _belongs_to_tank(word: str) -> NoReturn:
    fault = Problem("command-102", f"'{word}' is a verb of advisor tank", mend=_EXAMPLES[f"tank {word}"])
    raise UnusableInput(word, (fault,))


def _require(word: str, known: dict[str, str], before: str) -> None:
    if word in known:
        return
    if known is VERBS and word in SUBVERBS["tank"]:
        _belongs_to_tank(word)
    close = difflib.get_close_matches(word.lower(), known, n=1)
    mend = f"{before} {close[0]}" if close else f"{before} with one of: {', '.join(known)}"
    raise UnusableInput(word, (Problem("command-102", f"'{word}' is not a verb of {before}", mend=mend),))
