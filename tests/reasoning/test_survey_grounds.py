from __future__ import annotations

from datetime import date

import pytest

from advisor.model.tank import Said, Statement
from advisor.model.vocabulary import Assumption, Grade
from advisor.reasoning.survey_grounds import (
    assumed_support,
    days_ago,
    plain,
    quantity,
    said_support,
    span_of,
    stale_support,
    word_support,
)
from tests.reasoning.survey_samples import TODAY, library, read, said

LIGHT = library().vocabulary.measures["light"]
DAY = date(2026, 10, 24)


@pytest.mark.parametrize(
    ("statement", "text"),
    [
        (read(118.0, DAY), "your meter, 9 days ago"),
        (Statement(best=36.0, how="tape"), "tape"),
        (Statement(best=36.0, how="meter, corrected", on=TODAY), "your meter, today"),
        (Statement(best=110.0, how="meter", by=Said.SELLER), "seller's meter"),
        (Statement(best=9.0, how="crumb timed 5 times"), "crumb timed 5 times"),
        (Statement(words=("medium",), by=Said.SELLER), "seller's word 'medium'"),
        (Statement(words=("medium",), by=Said.SHOP, on=date(2026, 11, 1)), "shop's word 'medium', yesterday"),
        (Statement(words=("sways",)), "your word 'sways'"),
        (Statement(best=110.0, by=Said.SELLER), "seller"),
        (Statement(best=110.0, by=Said.INSTRUMENT), "instrument"),
        (Statement(truth=True), "you say so"),
        (Statement(best=12.0), "your reading"),
    ],
)
def test_who_says_it_reads_like_a_keeper(statement: Statement, text: str) -> None:
    assert said_support(statement, TODAY).text == text


def test_the_details_tell_what_the_column_has_no_room_for() -> None:
    support = said_support(said(118.0, how="meter, corrected", written="118 PAR", on=DAY), TODAY, LIGHT)
    assert support.source == "written as 118 PAR; meter, corrected; error ±12 %, the usual one"
    assert (support.on, support.age_days) == (DAY, 9)


def test_a_stated_error_is_told_in_the_unit_of_the_measure() -> None:
    gap = library().vocabulary.measures["gap"]
    temperature = library().vocabulary.measures["temperature"]
    assert said_support(said(118.0, error=15.0), TODAY, LIGHT).source == "error ±15 PAR as stated"
    assert said_support(said(20.0), TODAY, gap).source == "error ±1 cm, the usual one"
    assert said_support(said(25.0), TODAY, temperature).source == "error ±0.5 °C, the usual one"


def test_since_when_is_told_but_is_not_the_age_of_the_saying() -> None:
    support = said_support(Statement(words=("well",), since=date(2026, 3, 1)), TODAY)
    assert (support.text, support.source) == ("your word 'well'", "since 2026-03-01")


def test_a_word_tells_what_it_stands_for_and_who_says_so() -> None:
    meaning = next(each for each in library().words if each.word == "medium" and each.said_by == "seller")
    support = word_support(Statement(words=("medium",), by=Said.SELLER), meaning, TODAY, LIGHT)
    assert support.source.startswith("stands for 50-250 PAR (")
    assert support.grade is Grade.EXPERIENCE


@pytest.mark.parametrize(
    ("statement", "text"),
    [(read(118.0, DAY), "too old: 118 PAR"), (said(low=50.0, high=90.0, on=DAY), "too old: 50-90 PAR"),
     (said(words=("medium",), on=DAY), "too old: medium")],
)  # fmt: skip
def test_what_is_too_old_tells_what_it_was(statement: Statement, text: str) -> None:
    support = stale_support(statement, TODAY, LIGHT)
    assert support.text == text
    assert support.source.endswith("9 days ago; good for 180 days")


def test_a_guess_says_that_it_is_one() -> None:
    support = assumed_support(Assumption(40.0, 110.0, "most shops keep these dim", Grade.GUESS))
    assert (support.text, support.source, support.grade) == (
        "a guess, not told",
        "most shops keep these dim",
        Grade.GUESS,
    )


def test_amounts_are_told_in_the_unit_of_the_measure() -> None:
    age = library().vocabulary.measures["tank-age"]
    assert quantity(118.0, LIGHT) == "118 PAR"
    assert quantity(365.25, age) == "12 months"
    assert span_of(50.0, 200.0, LIGHT) == "50-200 PAR"


def test_ages_are_told_as_a_keeper_tells_them() -> None:
    assert [days_ago(age) for age in (0, 1, 2)] == ["today", "yesterday", "2 days ago"]


def test_short_grounds_fit_a_narrow_column() -> None:
    common = (
        read(1.0, DAY),
        Statement(best=1.0, how="tape"),
        Statement(words=("very high",), by=Said.SELLER),
    )
    assert all(len(said_support(each, TODAY).text) <= 26 for each in common)
    assert plain("no card").text == "no card"
