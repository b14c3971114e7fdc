"""The sheet of a zoanthid against what was published about people who fell ill.

All were read as abstracts or excerpts, not in full.
"""

from __future__ import annotations

from functools import cache

import pytest

from advisor.knowledge.names import find_card
from advisor.language.library import Library
from advisor.model.handling import HandlingAnswer
from advisor.planning.handling import Held, Sheets, handling_answer
from advisor.session.opening import shipped

ZOANTHIDS = ("Palythoa", "Zoanthus", "yellow polyps")

OATA = "Ornamental Aquatic Trade Association with Health Protection Scotland, guidance 2018"
MUST_NOT = (
    ("Deeds et al. 2011, PLoS ONE 6:e18235", "using boiling water", "pour boiling water over it"),
    ("Hall et al. 2015, Case Rep Emerg Med 2015:621815", "using hot tap water", "use hot water"),
    ("Schulz et al. 2019, Arh Hig Rada Toksikol 70:14", "brushing ... from live rock", "brush it off"),
    ("Tartaglione et al. 2016, Toxicon, told in Coral 15(2), 2018", "with a brush under hot running water",
     "scrub it under running water"),
    (OATA, "pouring boiling/hot water over live rock", "pouring hot water on the rock"),
    (OATA, "microwaving live rock/coral frag plugs", "microwave the frag plug"),
    (OATA, "pressure (steam) cleaning", "steam clean it"),
    (OATA, "pressure (steam) cleaning", "pressure wash the rock"),
    (OATA, "washing live rock under running water / using a water sprayer", "spray it off"),
    ("StatPearls, Palytoxin keratitis", "boiling in water and/or scrubbing", "boil and scrub the rock"),
)  # fmt: skip
"""Source, what made people ill or is advised against in its words, and how a keeper would say it."""

SYMPTOMS = {
    "Hamade et al. 2015, MMWR 64:852": (
        "bitter",
        "metallic taste",
        "fever",
        "weakness",
        "cough",
        "muscle pain",
    ),
    "Pelin et al. 2016, Mar Drugs 14:33, abstract": ("cough", "weakness", "nausea", "numb"),
    "Health Protection Scotland, weekly report 52/1404, 2018": ("fever", "cough", "headache", "racing heart"),
}


@cache
def library() -> Library:
    """The shipped rules, read once."""
    return shipped()


def sheet(coral: str, doing: str = "") -> HandlingAnswer:
    """The answer about one coral, from the shipped files alone."""
    ships = library()
    cards = tuple(ships.cards[name] for name in find_card(coral, ships).cards)
    assert cards, coral
    return handling_answer(Held(coral, cards), Sheets(ships.handlings, ships.actions), doing)


@pytest.mark.parametrize("coral", ZOANTHIDS)
def test_what_made_people_ill_is_refused_for_every_zoanthid(coral: str) -> None:
    for source, quoted, doing in MUST_NOT:
        answer = sheet(coral, doing)
        assert any("palytoxin" in step.about for step in answer.refused), (source, quoted)
        assert all(step.source and step.grade for step in answer.refused)


def test_the_symptoms_of_the_reports_stand_on_the_sheet() -> None:
    told = " ".join(step.text.lower() for step in sheet("Zoanthus").signs)
    for source, signs in SYMPTOMS.items():
        assert [sign for sign in signs if sign not in told] == [], source


def test_the_delay_of_the_report_stands_on_the_sheet() -> None:
    """Hamade et al. 2015: ill 7-8 h after a colony was put into the tank; Hall et al. 2015: 1-2 h."""
    told = " ".join(step.text for step in sheet("Palythoa").signs)
    assert "after 8 hours" in told
    assert "within minutes" in told


def test_there_is_no_antidote_and_the_word_to_say_is_told() -> None:
    """Sud et al. 2013, J Med Toxicol 9:282, abstract: 'no known antidotal therapy ... supportive care'."""
    told = " ".join(step.text for step in sheet("Zoanthus").helps).lower()
    assert "no antidote" in told
    assert "say palytoxin" in told
    assert "emergency services" in told
    assert "poison centre" in told


def test_an_eye_is_rinsed_and_shown_the_same_day() -> None:
    """Barrett et al. 2021, Clin Ophthalmol 15:141: corneal perforation, a transplant was required."""
    answer = sheet("Zoanthus")
    assert "cornea" in " ".join(step.text for step in answer.signs)
    helps = " ".join(step.text for step in answer.helps)
    assert "eye clinic the same day" in helps
    assert "rinse at once" in helps


def test_gloves_because_the_poison_passes_a_wound() -> None:
    """Hoffmann et al. 2008, Toxicon 51:1535: poisoning 'through a skin injury'."""
    first = [step for step in sheet("Zoanthus", "touch it").first if "Hoffmann" in step.source]
    assert "Gloves" in first[0].text
    assert "open cut" in first[0].text


def test_bleach_is_thinned_one_to_nine_and_never_mixed() -> None:
    """Leaflet of the same guidance, 2018: 'one part household bleach to nine parts' of water."""
    answer = sheet("Zoanthus")
    bleach = [step.text for step in answer.ways if "bleaching it" in step.actions]
    assert "nine parts water" in bleach[0].replace("\n", " ")
    assert any("Never mix bleach" in step.text for step in answer.never)


def test_glued_skin_is_never_pulled_apart() -> None:
    """Ontario Poison Centre, super glue: 'Do not pull the skin apart'; makers' sheets: warm, soapy water."""
    (told,) = [step.text for step in sheet("torch", "glue it").helps if "glued" in step.text]
    assert "never pull it apart" in told
    assert "warm soapy water" in told


def test_the_most_that_is_lifted_is_the_load_constant_of_niosh() -> None:
    """NIOSH 1994, Publication 94-110: load constant 23 kg, for an ideal lift."""
    answer = sheet("torch", "lift the rock")
    told = " ".join(step.text for step in (*answer.first, *answer.ways))
    assert "23 kg" in told
    assert "ideal" in told


def test_a_wound_in_sea_water_is_washed_and_watched() -> None:
    """CDC (USA), Vibrio vulnificus and wounds: cover wounds, wash them with soap and water."""
    answer = sheet("table acropora", "touch it")
    assert any("waterproof plaster" in step.text for step in answer.first)
    assert any("soap and much clean water" in step.text for step in answer.helps)


def test_eye_cover_names_the_standard_in_force() -> None:
    """EN ISO 16321-1:2022 takes the place of EN 166, with a transition to November 2025; USA: ANSI Z87.1."""
    told = " ".join(step.text for step in sheet("torch", "cut the plug").first)
    assert all(name in told for name in ("EN ISO 16321", "EN 166", "Z87.1"))


def test_no_telephone_number_is_made_up() -> None:
    answer = sheet("Zoanthus")
    told = [step.text for part in (answer.signs, answer.helps, answer.defers) for step in part]
    digits = [word for text in told for word in text.split() if sum(letter.isdigit() for letter in word) > 1]
    assert digits == []
