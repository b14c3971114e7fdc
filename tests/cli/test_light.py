"""The verb light: what it passes on, what it prints, how it ends."""

from __future__ import annotations

import json

import pytest

from advisor.cli import main
from advisor.model.lightanswer import LightFitAnswer
from tests.cli.fake import FakeApi
from tests.model.test_lightanswer import FITTED, HERE


def test_each_place_is_asked_with_the_lamps_as_set(api: FakeApi) -> None:
    api.session.light_answer = HERE
    words = ["light", "ledge", "40, 30, 20 cm", "--lamp", "left=80%", "--lamp", "right=25cm"]
    assert main(words) == 0
    lamps = ("left=80%", "right=25cm")
    assert api.session.asked == [("light", "ledge", lamps), ("light", "40, 30, 20 cm", lamps)]


def test_a_known_light_is_printed_and_ends_well(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.session.light_answer = HERE
    assert main(["light", "ledge"]) == 0
    assert capsys.readouterr().out.startswith("ledge     120 PAR, 90 to 160")


def test_what_is_not_known_or_does_not_agree_ends_with_one(api: FakeApi) -> None:
    assert main(["light", "ledge"]) == 1
    api.session.light_answer = HERE.model_copy(update={"agrees": False})
    assert main(["light", "ledge"]) == 1


def test_the_fit_ends_with_one_where_a_reading_is_odd_or_nothing_is_known(api: FakeApi) -> None:
    api.session.fit_answer = FITTED
    assert main(["light", "--fit"]) == 0
    (reading,) = FITTED.readings
    api.session.fit_answer = FITTED.model_copy(
        update={"readings": (reading.model_copy(update={"odd": True}),)}
    )
    assert main(["light", "--fit"]) == 1
    api.session.fit_answer = LightFitAnswer(missing=("the lamps",))
    assert main(["light", "--fit"]) == 1


def test_as_data(api: FakeApi, capsys: pytest.CaptureFixture[str]) -> None:
    api.session.light_answer, api.session.fit_answer = HERE, FITTED
    assert main(["light", "ledge", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["question"], told["best"], told["own"]["best"]) == ("light", 120.0, 110.0)
    assert main(["light", "--fit", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["question"] == "light fit"


@pytest.mark.parametrize(
    "words", [["light"], ["light", "--fit", "ledge"], ["light", "--fit", "--lamp", "a=1%"]]
)
def test_words_that_do_not_go_together_are_refused(
    api: FakeApi, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    assert main(words) == 2
    shown = capsys.readouterr().err
    assert "command-108" in shown
    assert "advisor light" in shown
    assert api.session.asked == []
