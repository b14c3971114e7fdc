"""The page of a measure or relation, and the loose words."""

from __future__ import annotations

from advisor.rulework.reading_pages import reading_page, unit_of, words_page
from tests.rulework.shelves import shelf


def test_a_measure_with_its_range_error_and_users() -> None:
    text = reading_page("light", shelf()).markdown
    for part in ("0 to 2500 PAR", "5 PAR", "12%", "180 days", "not-too-bright"):
        assert part in text


def test_what_is_reckoned_with_is_told_by_group() -> None:
    text = reading_page("origin-light", shelf()).markdown
    assert "## While nobody has told it" in text
    assert "40 to 110 PAR" in text


def test_a_reading_no_rule_looks_at_says_so() -> None:
    unread = [name for name in shelf().library.vocabulary.measures if not shelf().rules_reading(name)]
    assert unread
    assert reading_page(unread[0], shelf()).markdown.rstrip().endswith("None.")


def test_every_kind_of_value_has_words() -> None:
    known = shelf().library.vocabulary
    told = {name: unit_of(measure) for name, measure in known.measures.items()}
    told |= {name: unit_of(relation) for name, relation in known.relations.items()}
    assert told["gap"] == "cm"
    assert told["divider"] == told["bleached"] == "yes or no"
    assert told["genus"] == "a name"
    assert told["group"].startswith("one of small-polyp")
    assert told["weapons"].startswith("several of ")


def test_every_loose_word_is_listed() -> None:
    rows = [line for line in words_page(shelf()).markdown.splitlines() if line.startswith("| ")]
    assert len(rows) - 2 == len(shelf().library.words)
