"""Names made plain, and who bears them."""

from __future__ import annotations

import pytest

from advisor.knowledge.nameindex import index_names, plain_name, spellings
from advisor.language.library import Library
from advisor.language.nodes import Card
from advisor.language.parse import parse_file
from advisor.model.vocabulary import Vocabulary

TEXT = """edition 1

card wall-thing "wall thing"
  also "thing", "O'Brien's coral"
  taxon "Examplea ancora"
  genus examplea  group large-polyp

card branching-thing "branching thing"
  also "thing"
  taxon "Examplea divisa"
  genus examplea  group soft
"""


@pytest.fixture(scope="module")
def library() -> Library:
    parsed, problems = parse_file("two.rules", TEXT)
    assert problems == ()
    return Library(
        Vocabulary(), cards={each.name: each for each in parsed.declarations if isinstance(each, Card)}
    )


@pytest.mark.parametrize(
    ("text", "plain"),
    [("Bird's  Nest", "birds nest"), ("torch-1", "torch 1"), ("  GSP ", "gsp"), ("P. sp. (red)", "p sp red")],
)
def test_a_plain_name_has_no_case_and_no_marks(text: str, plain: str) -> None:
    assert plain_name(text) == plain


def test_own_names_titles_and_others_are_indexed(library: Library) -> None:
    index = index_names(library)
    assert index.own == {"wall thing": "wall-thing", "branching thing": "branching-thing"}
    assert index.names["thing"] == ("wall-thing", "branching-thing")
    assert index.names["obriens coral"] == ("wall-thing",)
    assert index.names["examplea divisa"] == ("branching-thing",)
    assert index.genera == {"examplea": ("wall-thing", "branching-thing")}


def test_groups_go_by_their_word_and_by_trade_words(library: Library) -> None:
    index = index_names(library)
    assert (
        index.groups["soft"] == index.groups["soft coral"] == index.groups["leather"] == ("branching-thing",)
    )
    assert index.groups["lps"] == ("wall-thing",)
    assert "sps" not in index.groups


def test_every_name_may_be_misspelt(library: Library) -> None:
    known = spellings(index_names(library))
    assert known["wall thing"] == ("wall-thing",)
    assert set(known) >= {"thing", "examplea", "examplea ancora"}
