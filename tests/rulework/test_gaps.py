"""Why something is never shown, and an example that would show it."""

from __future__ import annotations

from dataclasses import replace

from advisor.language.library import Library
from advisor.language.nodes import Example
from advisor.language.parse import parse_file
from advisor.model.coverage import Gap
from advisor.rulework.covering import cover
from tests.reasoning.small import library_of, rule_text
from tests.rulework.little import FAR, NEAR, PARTED, little


def gaps(library: Library, name: str = "tested") -> dict[tuple[str, str], Gap]:
    (thing,) = cover(library, [name]).things
    return {(gap.where, gap.what): gap for gap in thing.gaps}


def pasted(gap: Gap, library: Library) -> Library:
    """The library with the block of a gap in it, its outcome as it comes out."""
    file, problems = parse_file("own.rules", f"edition 1\n\n{gap.example.removesuffix('…')}{gap.comes_out}\n")
    assert problems == ()
    added = tuple(item for item in file.declarations if isinstance(item, Example))
    return replace(library, examples=(*library.examples, *added))


def test_every_block_that_is_offered_covers_its_gap_and_comes_out_as_it_says() -> None:
    library = little(FAR, NEAR, PARTED)
    found = gaps(library)
    assert ("verdict", "not covered") in found
    assert len(found) > 8
    for where, gap in found.items():
        assert gap.example, where
        with_it = pasted(gap, library)
        assert where not in gaps_left(with_it)
        assert cover(with_it).failed == 0


def gaps_left(library: Library) -> set[tuple[str, str]]:
    """What is still never shown, without searching for examples."""
    (thing,) = (thing for thing in cover(library).things if thing.name == "tested")
    verdicts = {("verdict", mark.what) for mark in thing.verdicts if mark.lacking}
    return verdicts | {
        (each.text, mark.what) for each in thing.conditions for mark in each.marks if mark.lacking
    }


def test_why_names_the_fact_that_is_always_the_same() -> None:
    found = gaps(little(FAR, NEAR, PARTED))
    assert found["potency(a) >= 2", "false"].why == "in every example potency(a) is 3"
    assert found["fenced(b)", "true"].why == "in every example fenced(b) is no"
    assert found["verdict", "not covered"].why == "every example comes out as: holds, fails, excused"
    assert "gap(a, b) runs from 12 to 30 cm" in found["gap(a, b) >= room(a)", "met within a step"].why


def test_why_says_that_nothing_comes_so_far() -> None:
    found = gaps(little(FAR))
    assert found["divider(a, b)", "true"].why == "in every example the `expect` holds, or the `when` does not"
    assert gaps(little())["potency(a) >= 2", "true"].why == "there is no example"


def test_gaps_of_a_definition_are_searched_in_the_rules_that_use_it() -> None:
    found = gaps(little(FAR), "room")
    assert found["least", "taken"].why == "another case applies in every example"
    assert "group = soft" in found["least", "taken"].example
    assert found["least", "taken"].example.startswith('example "')


def test_what_needs_nothing_has_no_gaps() -> None:
    text = (
        'rule looks-well for animal a expect-by-eye "{a} is open" level advice\n'
        '  because "so" matters "so" remedy "so" source "us" kind guess\n'
    )
    assert gaps(library_of(text), "looks-well") == {}
    assert gaps(library_of(rule_text("light(a.spot) >= 50 PAR"))) != {}
