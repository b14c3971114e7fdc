"""What is said of two rules side by side."""

from __future__ import annotations

from advisor.rulework.lint_pairs import pairs_of
from tests.rulework.lints import END, codes, findings, library_of

RULE = 'rule {name}\n  for animal {a}\n{when}  expect {expect}\n  level {level}\n  because "{{{a}}}"\n'
LETS = 'let low = 100 PAR because "a"\nlet high = 200 PAR because "a"\n'


def a_rule(
    name: str, expect: str, when: str = "", level: str = "advice", more: str = "", a: str = "a"
) -> str:
    clause = f"  when {when}\n" if when else ""
    return RULE.format(name=name, when=clause, expect=expect + more, level=level, a=a)


def said(*rules: str) -> list[str]:
    return [code for code in codes(LETS + "".join(rules)) if code != "lint-201"]


def test_what_cannot_both_be_met_is_told_once() -> None:
    bright, dim = a_rule("bright", "light(a.spot) >= high"), a_rule("dim", "light(z.spot) <= low", a="z")
    assert said(bright, dim) == ["logic-301"]


def test_rules_for_different_kinds_do_not_contradict_each_other() -> None:
    bright = a_rule("bright", "light(a.spot) >= high", "group(a) is clam")
    assert said(bright, a_rule("dim", "light(a.spot) <= low", "group(a) is soft")) == []
    assert said(bright, a_rule("dim", "light(a.spot) <= low", "group(a) is one of clam, soft")) == [
        "logic-301"
    ]


def test_who_is_excused_is_content() -> None:
    bright = a_rule("bright", "light(a.spot) >= high", more="\n  unless size(a) < 3 cm")
    assert said(bright, a_rule("dim", "light(a.spot) <= low")) == []


def test_a_rule_and_a_preference_can_contradict_each_other() -> None:
    want = 'prefer glow\n  for animal a\n  want light(a.spot) >= high\n  weight 2\n  because "{a}"\n'
    (found,) = [each for each in findings(LETS + want + a_rule("dim", "light(a.spot) <= low"))
                if each.code == "logic-301"]  # fmt: skip
    told = {found.problem.label, *(related.label for related in found.problem.related)}
    assert told == {"'glow' wants this", "'dim' expects this"}


def test_a_narrower_rule_that_is_no_graver_says_nothing_new() -> None:
    wide, narrow = a_rule("dim", "light(a.spot) <= low"), a_rule("not-bright", "light(a.spot) <= high")
    assert said(wide, narrow) == ["logic-303"]
    assert said(wide, a_rule("not-bright", "light(a.spot) <= high", level="warning")) == []


def test_a_rule_only_for_tonight_does_not_stand_for_one_that_lasts() -> None:
    wide = a_rule("dim", "light(a.spot) <= low").replace("level advice", "level advice\n  stage tonight")
    assert said(wide, a_rule("not-bright", "light(a.spot) <= high")) == []
    always = a_rule("dim", "light(a.spot) <= low")
    narrow = a_rule("not-bright", "light(a.spot) <= high").replace("advice", "advice\n  stage tonight")
    assert said(always, narrow) == ["logic-303"]


def test_what_is_said_twice_is_told_of_the_house() -> None:
    text = a_rule("own-light", "light(z.spot) >= light-min(z)", level="warning", a="z")
    (found,) = [each for each in findings(text) if each.code == "logic-302"]
    assert found.problem.what == "'own-light' says the same as 'light-enough'"


def test_pairs_bind_the_same_and_share_a_reading() -> None:
    library = library_of("rule wide\n  for animal a\n  expect size(a) > 3 cm" + END)
    names = {(pair.one.name, pair.other.name) for pair in pairs_of(library)}
    assert ("light-enough", "wide") not in names
    assert ("wide", "light-enough") not in names
