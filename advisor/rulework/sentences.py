"""Rules in plain English, made from their tree, so that no sentence can be out of date."""

from __future__ import annotations

import re

from advisor.language.format_expr import HARD_SPACE, template
from advisor.language.library import Library
from advisor.language.nodes import Define, Lever, Prefer, Rule, Stage
from advisor.rulework.phrases import Phrases, listed, phrase_of

_LEVEL = {
    "danger": "Where that is not so, it is a danger.",
    "warning": "Where that is not so, it is a warning.",
    "advice": "Where that is not so, it is only worth a word.",
}
_STAGE = {
    Stage.GATE: "It is asked once, before anything else.",
    Stage.ALWAYS: "",
    Stage.TONIGHT: "It is asked for the first nights only.",
    Stage.SETTLED: "It is asked for a place for good only.",
}


class Speaker:
    """Says rules, preferences, definitions and levers of one library in words."""

    def __init__(self, library: Library) -> None:
        self._phrases = Phrases(library)

    def rule(self, rule: Rule) -> str:
        """Return a rule as a few sentences."""
        start = f"For {listed(map(self._phrases.binder, rule.binders))}: "
        then = ""
        if rule.when is not None:
            start, then = f"{start}if {self._phrases.said(rule.when)}, ", "then "
        what = (
            f"look by eye: {_without_braces(rule.by_eye)}"
            if rule.expect is None
            else self._phrases.must(rule.expect)
        )
        ahead = ", today and in every month that is looked ahead" if rule.until_horizon else ""
        unless = "" if rule.unless is None else f", unless {self._phrases.said(rule.unless)}"
        ends = [f"{start}{then}{what}{ahead}{unless}.", _LEVEL[rule.level.value], _STAGE[rule.stage]]
        return _clean(" ".join(end for end in ends if end))

    def preference(self, prefer: Prefer) -> str:
        """Return a preference as two sentences."""
        about = listed(map(self._phrases.binder, prefer.binders))
        when = "" if prefer.when is None else f"if {self._phrases.said(prefer.when)}, then "
        fades = f"It weighs {prefer.weight:g} and fades to nothing over {prefer.fade_steps:g} steps."
        return _clean(
            f"For {about}: {when}a place is better where {self._phrases.said(prefer.want)}. {fades}"
        )

    def definition(self, define: Define) -> list[str]:
        """Return the cases of a definition, each a part of a sentence."""
        if define.cases[0].when is None and len(define.cases) == 1:
            return [_clean(self._phrases.said(define.cases[0].value))]
        return [
            _clean(
                f"{self._phrases.said(case.value)}, "
                f"{'otherwise' if case.when is None else f'if {self._phrases.said(case.when)}'}"
            )
            for case in define.cases
        ]

    def name_of(self, define: Define) -> str:
        """Return what a definition is called in a sentence."""
        names = [param.name for param in define.params]
        if define.say is None:
            return f"{define.name.replace('-', ' ')} of {listed(names)}"
        return self._phrases.about(phrase_of(define.say), define.params, names)

    def lever(self, lever: Lever) -> str:
        """Return what a keeper can change, as the answers say it."""
        return _clean(_without_braces(template(lever.say)))


def _without_braces(text: str) -> str:
    """A text with its things named as the rule names them."""
    return re.sub(r"\{([^{}]*)\}", r"\1", text)


def _clean(text: str) -> str:
    """A sentence with plain spaces."""
    return text.replace(HARD_SPACE, " ")
