"""Scenarios of features/handling, and what only they say."""

from __future__ import annotations

import pytest
from pytest_bdd import parsers, scenarios, then, when

from tests.behaviour.keeper import DAY, Keeper

scenarios("handling")

_STEPS = ("refused", "never", "first", "ways", "signs", "helps", "defers")


@when(parsers.re(r"I ask how to handle (?P<coral>[^\"]+)$"))
def ask_sheet(keeper: Keeper, coral: str) -> None:
    keeper.ask("handle", coral)


@when(parsers.re(r'I ask how to handle (?P<coral>[^"]+) to "(?P<doing>[^"]*)"'))
def ask_doing(keeper: Keeper, coral: str, doing: str) -> None:
    keeper.ask("handle", coral, "--to", doing)


@when(parsers.re(r'I ask outside any tank how to handle (?P<coral>[^"]+) to "(?P<doing>[^"]*)"'))
def ask_outside(keeper: Keeper, coral: str, doing: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(keeper.home)
    keeper.run("handle", *coral.split(), "--to", *doing.split(), "--on", DAY)


@then(parsers.parse("the first thing I read is a refusal to {act} it"))
def refusal_first(keeper: Keeper, act: str) -> None:
    first, *_ = keeper.last.out.splitlines()
    assert first.startswith("NO ")
    told = keeper.answer()["refused"]
    assert any(act in step["text"].lower() for step in told)
    assert told[0]["text"].split()[0] in first


@then("nothing is refused")
def nothing_refused(keeper: Keeper) -> None:
    assert keeper.answer()["refused"] == []
    assert not keeper.last.out.startswith("NO")


@then("I am told what to do instead")
def told_instead(keeper: Keeper) -> None:
    assert all(step["instead"] for step in keeper.answer()["refused"])
    assert "Instead: " in keeper.last.out


@then("I am told what must be at hand first")
def told_first(keeper: Keeper) -> None:
    shown = keeper.last.flat
    steps = keeper.answer()["first"]
    assert steps
    assert all(step["text"] in shown for step in steps)
    assert "Until all of this is at hand, wait." in shown


@then("each line of the sheet names its source and how sure it is")
def sourced(keeper: Keeper) -> None:
    answer = keeper.answer()
    steps = [step for part in _STEPS for step in answer[part]]
    assert len(steps) > 30
    assert all(step["source"] and step["grade"] for step in steps)
    assert all(step["source"] in keeper.last.flat for step in steps)


@then("I am told that labels, the electrical code and doctors come first")
def deferring(keeper: Keeper) -> None:
    told = " ".join(step["text"].lower() for step in keeper.answer()["defers"])
    assert all(word in told for word in ("label", "electrical code", "doctor", "emergency services"))


@then(parsers.parse('I do not read "{text}"'))
def i_do_not_read(keeper: Keeper, text: str) -> None:
    assert text not in keeper.last.flat
