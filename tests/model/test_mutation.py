"""The share of changes that are noticed."""

from __future__ import annotations

from advisor.model.mutation import MutateAnswer


def test_the_share_is_of_the_changes_that_change_something() -> None:
    assert MutateAnswer(tried=8, noticed=6).percent == 75.0
    assert MutateAnswer(tried=0, noticed=0).percent == 100.0
