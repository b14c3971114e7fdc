"""The language server, spoken to by a real client over its own wire."""

from __future__ import annotations

import asyncio
import shutil
import sys
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
import pytest_asyncio
import pytest_lsp
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

from advisor.editors.server import path_of

ROOT = Path(__file__).resolve().parents[2]
SERVER = [sys.executable, "-m", "advisor", "rules", "editor", "--serve"]
HOUSE = """edition 1

let my-gap = 8 cm
  because "seen it"

rule room-for-mine
  for      coral c, neighbour n of c
  expect   gap(c, n) >= my-gap
  level    advice
  because  "{c} is {gap(c, n)} from {n}"
  matters  "it is mine"
  remedy   "move it"
  source   "own tank" kind experience

example "far enough" for room-for-mine
  given a-1 is coral
        b-1 is coral
        gap(a-1, b-1) = 12 cm
  then  a-1, b-1 holds by 4 cm
"""


# pytest-lsp ships this decorator without types
@pytest_lsp.fixture(config=ClientServerConfig(server_command=SERVER))  # type: ignore[untyped-decorator]
async def client(lsp_client: LanguageClient) -> AsyncIterator[None]:
    """A client that has said good day, and says goodbye at the end."""
    await lsp_client.initialize_session(
        types.InitializeParams(capabilities=pytest_lsp.client_capabilities("visual-studio-code"))
    )
    yield
    await lsp_client.shutdown_session()


@pytest_asyncio.fixture
async def house(tmp_path: Path, client: LanguageClient) -> str:
    """An open house file beside a tank; returns its address."""
    shelf = Path(shutil.copytree(ROOT / "examples" / "first-shelf", tmp_path / "shelf"))
    path = shelf / "house.rules"
    path.write_text(HOUSE, encoding="utf-8")
    await open_file(client, path.as_uri(), HOUSE)
    return path.as_uri()


async def open_file(client: LanguageClient, uri: str, text: str) -> None:
    """Open a file and wait until its problems are told."""
    item = types.TextDocumentItem(uri=uri, language_id="coral-rules", version=1, text=text)
    client.text_document_did_open(types.DidOpenTextDocumentParams(item))
    await client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)


async def type_text(client: LanguageClient, uri: str, text: str) -> list[types.Diagnostic]:
    """Replace the whole text and return the problems told."""
    client.text_document_did_change(
        types.DidChangeTextDocumentParams(
            types.VersionedTextDocumentIdentifier(uri=uri, version=2),
            [types.TextDocumentContentChangeWholeDocument(text)],
        )
    )
    await client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    return list(client.diagnostics[uri])


def at(text: str, line: str, name: str) -> types.Position:
    """Return where a name stands in a line."""
    lines = text.splitlines()
    number = next(index for index, each in enumerate(lines) if line in each)
    return types.Position(number, lines[number].index(name) + 1)


@pytest.mark.asyncio
async def test_problems_come_and_go_as_one_types(client: LanguageClient, house: str) -> None:
    assert not client.diagnostics[house]
    wrong = await type_text(client, house, HOUSE.replace("expect ", "expct "))
    assert "word-101" in {problem.code for problem in wrong}
    assert wrong[0].range.start.line == 7
    assert await type_text(client, house, HOUSE) == []


@pytest.mark.asyncio
async def test_a_name_is_explained_and_found(client: LanguageClient, house: str) -> None:
    where = types.TextDocumentIdentifier(house)
    there = at(HOUSE, "expect", "my-gap")
    told = await client.text_document_hover_async(types.HoverParams(where, there))
    assert told is not None
    assert isinstance(told.contents, types.MarkupContent)
    assert "8 cm" in told.contents.value
    found = await client.text_document_definition_async(types.DefinitionParams(where, there))
    assert isinstance(found, list)
    assert [(place.uri, place.range.start.line) for place in found if isinstance(place, types.Location)] == [
        (house, 2)
    ]
    away = types.DefinitionParams(where, at(HOUSE, "expect", "gap("))
    shipped = await client.text_document_definition_async(away)
    assert isinstance(shipped, list)
    assert [Path(place.uri).name for place in shipped if isinstance(place, types.Location)] == [
        "measures.rules"
    ]


@pytest.mark.asyncio
async def test_names_are_offered(client: LanguageClient, house: str) -> None:
    params = types.CompletionParams(types.TextDocumentIdentifier(house), at(HOUSE, "expect", "my-gap"))
    offered = await client.text_document_completion_async(params)
    assert isinstance(offered, list)
    assert {"my-gap", "gap", "and"} <= {item.label for item in offered}


@pytest.mark.asyncio
async def test_a_file_is_put_in_its_one_form(client: LanguageClient, house: str) -> None:
    untidy = HOUSE.replace("  expect   gap", "     expect gap").replace("  level", "\n\n  level")
    await type_text(client, house, untidy)
    params = types.DocumentFormattingParams(
        types.TextDocumentIdentifier(house), types.FormattingOptions(tab_size=2, insert_spaces=True)
    )
    edits = await client.text_document_formatting_async(params)
    assert edits is not None
    assert "  expect   gap(c, n) >= my-gap\n\n  level" in edits[0].new_text
    await type_text(client, house, untidy.replace("coral c", "corl c"))
    assert not await client.text_document_formatting_async(params)


@pytest.mark.asyncio
async def test_an_example_is_run_from_the_line_above_it(client: LanguageClient, house: str) -> None:
    where = types.TextDocumentIdentifier(house)
    found = await client.text_document_code_lens_async(types.CodeLensParams(where))
    assert found is not None
    (lens,) = found
    assert lens.command is not None
    assert lens.range.start.line == at(HOUSE, "example", "example").line
    params = types.ExecuteCommandParams(lens.command.command, lens.command.arguments)
    results = await client.workspace_execute_command_async(params)
    assert isinstance(results, list)
    (result,) = results
    assert (result["ok"], result["got"]) == (True, "holds by 4 cm")


USER = """edition 1

rule also-mine
  for      coral c, neighbour n of c
  expect   gap(c, n) >= my-gap
  level    advice
  because  "{c} is {gap(c, n)} from {n}"
  matters  "it is mine"
  remedy   "move it"
  source   "own tank" kind experience
"""


async def told_of(client: LanguageClient, uri: str, *, faulty: bool) -> None:
    """Wait until a file has problems, or none any more."""
    while bool(client.diagnostics.get(uri)) is not faulty:
        await asyncio.wait_for(
            client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS), timeout=20
        )


@pytest.mark.asyncio
async def test_a_change_in_one_file_is_told_in_those_that_rest_on_it(
    client: LanguageClient, house: str
) -> None:
    beside = path_of(house).parent / "more.rules"
    beside.write_text(USER, encoding="utf-8")
    await open_file(client, beside.as_uri(), USER)
    assert not client.diagnostics[beside.as_uri()]
    await type_text(client, house, HOUSE.replace("my-gap", "our-gap"))
    await told_of(client, beside.as_uri(), faulty=True)
    (problem,) = client.diagnostics[beside.as_uri()]
    assert problem.code == "word-104"
    assert problem.range.start.line == 4
    assert not client.diagnostics[house]
    await type_text(client, house, HOUSE)
    await told_of(client, beside.as_uri(), faulty=False)


@pytest.mark.asyncio
async def test_files_that_are_not_open_are_told_too_and_a_closed_one_counts_as_stored(
    client: LanguageClient, tmp_path: Path
) -> None:
    shelf = Path(shutil.copytree(ROOT / "examples" / "first-shelf", tmp_path / "shelf"))
    house, beside = shelf / "house.rules", shelf / "more.rules"
    house.write_text(HOUSE, encoding="utf-8")
    beside.write_text(USER, encoding="utf-8")
    await open_file(client, house.as_uri(), HOUSE)
    await type_text(client, house.as_uri(), HOUSE.replace("my-gap", "our-gap"))
    await told_of(client, beside.as_uri(), faulty=True)
    item = types.TextDocumentIdentifier(house.as_uri())
    client.text_document_did_close(types.DidCloseTextDocumentParams(item))  # unsaved: the stored text counts
    await told_of(client, beside.as_uri(), faulty=False)
    assert not client.diagnostics[house.as_uri()]
