"""What a person must mind with every animal that an answer sends a hand to, not only the one asked about."""

from __future__ import annotations

import re
from collections.abc import Iterable

from advisor.model.results import Caution
from advisor.planning.desk import Desk, Subject, cautions_for


def cautions_with(desk: Desk, subject: Subject, asked: Iterable[str]) -> tuple[Caution, ...]:
    """Return the cautions of one animal and of all others that some sentences name, each caution once.

    Parameters
    ----------
    subject
        The animal the question is about; a caution of it alone names nobody.
    asked
        What a keeper is asked to do, in the words of the answer.
    """
    named = {word for text in asked for word in re.findall(r"[\w-]+", text)}
    others = sorted(named & set(desk.cards) - {subject.animal.id})
    found: dict[str, Caution] = {}
    about: dict[str, list[str]] = {}
    choices = [(subject.animal.id, subject.choice), *((animal, desk.cards[animal]) for animal in others)]
    for animal, choice in choices:
        for caution in cautions_for(desk, choice):
            found.setdefault(caution.text, caution)
            about.setdefault(caution.text, []).append(animal)
    alone = [subject.animal.id]
    return tuple(
        caution if about[text] == alone else caution.model_copy(update={"about": tuple(about[text])})
        for text, caution in found.items()
    )
