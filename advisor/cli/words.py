"""The verbs that explain: explain, schema."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING

from advisor.cli.output import Output, write
from advisor.errors import Problem, unusable

if TYPE_CHECKING:
    from advisor.reports.glossary import Entry


def explain(arguments: argparse.Namespace, out: Output) -> int:
    """Print what a problem code, a word of an answer or a name of the rule files means; alone: the list."""
    from advisor.reports.as_json import document_json
    from advisor.reports.glossary import entry, explained, headings, index_page, text_page

    wanted = " ".join(arguments.code)
    if not wanted:
        out.document(document_json("explain", {"words": list(headings())}), index_page())
        return 0
    whole = entry(wanted)
    asked = [wanted] if whole is not None or len(arguments.code) == 1 else arguments.code
    for word in asked:
        found = entry(word) or _name(word, arguments)
        out.document(document_json("explain", {**explained(found)}), text_page(found))
    return 0


def _name(word: str, arguments: argparse.Namespace) -> Entry:
    """What a name of the rule files stands for, those of the tank's own among them."""
    from advisor import api
    from advisor.rulework.explaining import explain_name, names_in_force, nearest_names

    house = (*api.house_rules(arguments.tank), *arguments.house)
    shelf = names_in_force(rules=arguments.rules, house=house, on=arguments.on)
    found = explain_name(word, shelf)
    if found is None:
        near = nearest_names(word, shelf)
        mend = f"advisor explain {near}" if near else "advisor explain, alone, lists all there is"
        meant = f"did you mean {near}?" if near else ""
        raise unusable((Problem("command-103", f"nothing is written about '{word}'", None, meant, mend),))
    return found


def schema(arguments: argparse.Namespace, out: Output) -> int:
    """Print a published JSON Schema."""
    from advisor import api

    write(out.out, json.dumps(api.schema(arguments.name), indent=2, ensure_ascii=False) + "\n")
    return 0
