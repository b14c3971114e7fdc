"""The verbs that explain: explain, schema."""

from __future__ import annotations

import argparse
import difflib
import json

from advisor.cli.output import Output, write
from advisor.errors import Problem, unusable


def explain(arguments: argparse.Namespace, out: Output) -> int:
    """Print the long text of a problem code or of a word an answer uses; alone: everything there is."""
    from advisor.reports.as_json import document_json
    from advisor.reports.glossary import entry, explained, headings, index_page, text_page

    wanted = " ".join(arguments.code)
    if len(arguments.code) > 1 and entry(wanted) is None:
        for code in arguments.code:
            explain(argparse.Namespace(code=[code]), out)
        return 0
    if not wanted:
        out.document(document_json("explain", {"words": list(headings())}), index_page())
        return 0
    found = entry(wanted)
    if found is None:
        close = difflib.get_close_matches(wanted, headings(), n=1)
        mend = f"advisor explain {close[0]}" if close else "advisor explain, alone, lists all there is"
        raise unusable((Problem("command-103", f"nothing is written about '{wanted}'", mend=mend),))
    out.document(document_json("explain", {**explained(found)}), text_page(found))
    return 0


def schema(arguments: argparse.Namespace, out: Output) -> int:
    """Print a published JSON Schema."""
    from advisor import api

    write(out.out, json.dumps(api.schema(arguments.name), indent=2, ensure_ascii=False) + "\n")
    return 0
