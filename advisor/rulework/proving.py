"""Run the examples that stand beside the rules."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.session.opening import library_in_force, usable

if TYPE_CHECKING:
    from advisor.model.results import ExampleResult


def run_examples(*, rules: Path | None = None, house: Sequence[Path] = ()) -> list[ExampleResult]:
    """Run every example of the rule files and return what came out.

    Raises
    ------
    UnusableInput
        If a rule file has an error.
    """
    from advisor.model.results import ExampleResult
    from advisor.reasoning import examples

    library = usable(*library_in_force(rules, house))
    return [
        ExampleResult(
            title=item.example.title,
            rule=item.example.rule,
            ok=item.ok,
            expected=item.expected,
            got=item.got,
            file=item.then.span.file,
            line=item.then.span.line,
            reason=item.reason,
        )
        for item in examples.run_examples(library)
    ]
