"""What a person must look at: in every audit, and for the animal that is asked about."""

from __future__ import annotations

from pathlib import Path

from tests.planning.tanks import STANDING, TORCH, coral, opened, spot, two_spots

LOOK = """
rule polyps-are-open
  for      animal a
  when     group(a) is large-polyp
  expect-by-eye "the polyps of {a} are open by noon"
  level    advice
  because  "a shut coral tells something"

rule wall-is-clean
  for      animal a, neighbour b of a
  when     group(a) is large-polyp
  expect-by-eye "nothing of {a} lies on {b}"
  level    advice
  because  "slime smothers"

rule glass-is-clean
  for      tank
  expect-by-eye "the glass is clean"
  level    advice
  because  "algae take light"

rule calm-on-the-first-night
  for      animal a
  expect-by-eye "{a} stands still by night"
  level    advice
  stage    tonight
  because  "it may fall"
"""
CANDY = coral("candy-1", "candy cane", f"spot: there, {STANDING}")
MAT = coral("star-1", "green star polyps", f"spot: far, {STANDING}")
SPOTS = two_spots("gaps: {candy-1: 60 cm}") + spot("far")


def mine(looks: tuple[str, ...]) -> list[str]:
    """Those looks that the rules above ask for."""
    return [look for look in looks if "open by noon" in look or "lies on" in look or "glass" in look
            or "by night" in look]  # fmt: skip


def test_an_audit_lists_every_look_and_names_alike_animals_together(tmp_path: Path) -> None:
    torch = coral("torch-1", "torch", f"spot: here, {STANDING}")
    answer = opened(tmp_path, spots=SPOTS, corals=CANDY + torch + MAT, house=LOOK).audit()
    assert mine(answer.by_eye) == [
        "the glass is clean",
        "the polyps of candy-1 and torch-1 are open by noon",
        "nothing of torch-1 lies on candy-1",
        "nothing of candy-1 and torch-1 lies on star-1",
        "nothing of candy-1 lies on torch-1",
    ]


def test_why_lists_what_concerns_the_animal_where_it_would_stand(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=SPOTS, corals=CANDY + TORCH + MAT, house=LOOK)
    assert mine(session.why("torch-1", "here").by_eye) == [
        "torch-1 stands still by night",
        "the polyps of torch-1 are open by noon",
        "nothing of torch-1 lies on candy-1",
        "nothing of torch-1 lies on star-1",
        "nothing of candy-1 lies on torch-1",
    ]
    assert mine(session.why("star-1").by_eye) == [
        "star-1 stands still by night",
        "nothing of candy-1 lies on star-1",
    ]


def test_a_look_that_is_not_meant_for_it_is_not_listed(tmp_path: Path) -> None:
    session = opened(tmp_path, spots=SPOTS, corals=CANDY + MAT, house=LOOK)
    assert not any("polyps of star-1" in look for look in session.why("star-1").by_eye)


def test_of_many_animals_some_are_named_and_the_rest_counted(tmp_path: Path) -> None:
    corals = "".join(coral(f"candy-{at}", "candy cane", "at: left") for at in range(10, 30))
    answer = opened(tmp_path, corals=corals, house=LOOK).audit()
    (look,) = [look for look in answer.by_eye if "open by noon" in look]
    assert look == (
        "the polyps of candy-10, candy-11, candy-12, candy-13, candy-14, candy-15, candy-16 and 13 more "
        "are open by noon"
    )
