"""The language server: the wire between an editor and `answers`. Needs the extra ``editor``."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path

from lsprotocol import types
from pygls.lsp.server import LanguageServer
from pygls.uris import from_fs_path, to_fs_path

from advisor.editors import answers
from advisor.editors.desk import Desk, desk_for
from advisor.errors import Problem, UnusableInput
from advisor.language.library import Library


class RulesServer(LanguageServer):
    """A language server that keeps the rule files around every open one."""

    def __init__(self) -> None:
        super().__init__("coral-rules", version("coral-advisor"))
        self._desks: dict[Path, Desk] = {}
        self._told: dict[str, list[types.Diagnostic]] = {}
        """What was last published of each file."""

    def desk(self, path: Path) -> Desk:
        """Return the files an open file belongs to; files of one folder share them."""
        found = desk_for(path)
        return self._desks.setdefault(found.folder if not found.house else found.house[0].parent, found)

    def library(self, uri: str) -> Library:
        """Return the rules with every open file as it is typed."""
        return self.desk(path_of(uri)).library(self.typed(uri))[0]

    def typed(self, uri: str) -> dict[Path, str]:
        """Return the texts of the open files that belong to one desk with a file."""
        desk = self.desk(path_of(uri))
        return {
            path_of(document.uri): document.source
            for document in self.workspace.text_documents.values()
            if self.desk(path_of(document.uri)) is desk
        }

    def text(self, uri: str) -> answers.Text:
        """Return an open file as its editor counts it."""
        document = self.workspace.get_text_document(uri)
        return answers.Text(tuple(document.lines), document.position_codec)

    def tell(self, uri: str) -> None:
        """Publish what is wrong with a file as it is typed, and what that changes in files beside it."""
        desk = self.desk(path_of(uri))
        _, problems = desk.library(self.typed(uri))
        self._publish(uri, self._found(uri, desk, problems))
        for other in self._beside(uri, desk, problems):
            found = self._found(other, desk, problems)
            if found != self._told.get(other, []):
                self._publish(other, found)

    def _publish(self, uri: str, found: list[types.Diagnostic]) -> None:
        """Publish the problems of one file."""
        self._told[uri] = found
        self.text_document_publish_diagnostics(types.PublishDiagnosticsParams(uri=uri, diagnostics=found))

    def _found(self, uri: str, desk: Desk, problems: Sequence[Problem]) -> list[types.Diagnostic]:
        """The problems of one file in its editor's terms; none of one that is not there."""
        is_open, path = uri in self.workspace.text_documents, path_of(uri)
        there = is_open or path.is_file()
        return answers.diagnostics(problems, desk.name(path), self.text(uri)) if there else []

    def _beside(self, uri: str, desk: Desk, problems: Sequence[Problem]) -> list[str]:
        """The other files of a desk that are open, have problems, or had some when they were last told."""
        opened = {desk.name(path_of(each)): each for each in self.workspace.text_documents}
        faulty = {problem.span.file for problem in problems if problem.span is not None}
        stored = [
            address
            for name in sorted(faulty - opened.keys())
            if (address := from_fs_path(str(desk.path(name).resolve()))) is not None
        ]
        every = dict.fromkeys((*opened.values(), *self._told, *stored))
        return [each for each in every if each != uri and self.desk(path_of(each)) is desk]


def path_of(uri: str) -> Path:
    """Return the path a file address stands for; an unsaved file gets one of its own."""
    return Path(to_fs_path(uri) or uri.replace(":", "-"))


def make_server() -> RulesServer:
    """Return a server with all its answers, ready to be started."""
    server = RulesServer()
    _about_problems(server)
    _about_names(server)
    _about_text(server)
    return server


def _about_problems(server: RulesServer) -> None:
    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        server.tell(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        server.tell(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        server.tell(params.text_document.uri)


def _about_names(server: RulesServer) -> None:
    @server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        uri = params.text_document.uri
        told = answers.hover(*server.text(uri).place(params.position), server.library(uri))
        return types.Hover(types.MarkupContent(types.MarkupKind.Markdown, told)) if told else None

    @server.feature(types.TEXT_DOCUMENT_COMPLETION)
    def completion(params: types.CompletionParams) -> list[types.CompletionItem]:
        uri = params.text_document.uri
        return answers.completions(*server.text(uri).place(params.position), server.library(uri))

    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> list[types.Location]:
        uri = params.text_document.uri
        desk, library = server.desk(path_of(uri)), server.library(uri)
        found = answers.definitions(*server.text(uri).place(params.position), library, desk)
        return [
            types.Location(address, server.text(address).range(span))
            for path, span in found
            if (address := from_fs_path(str(path.resolve()))) is not None
        ]


def _about_text(server: RulesServer) -> None:
    @server.feature(types.TEXT_DOCUMENT_FORMATTING)
    def formatting(params: types.DocumentFormattingParams) -> list[types.TextEdit]:
        from advisor.language.format import format_file

        uri = params.text_document.uri
        document = server.workspace.get_text_document(uri)
        tree, problems = server.desk(path_of(uri)).tree(path_of(uri), document.source)
        if any(problem.severity.value == "error" for problem in problems):
            return []
        try:
            text = format_file(tree, document.source)
        except UnusableInput:
            return []
        everything = types.Range(types.Position(0, 0), types.Position(len(document.lines), 0))
        return [] if text == document.source else [types.TextEdit(everything, text)]

    @server.feature(types.TEXT_DOCUMENT_CODE_LENS)
    def lenses(params: types.CodeLensParams) -> list[types.CodeLens]:
        uri = params.text_document.uri
        name = server.desk(path_of(uri)).name(path_of(uri))
        own = [example for example in server.library(uri).examples if example.span.file == name]
        return answers.lenses(own, server.text(uri), uri)

    @server.command(answers.RUN_EXAMPLE)
    def run_example(uri: str, rule: str, title: str) -> list[dict[str, object]]:
        results = answers.ran(rule, title, server.library(uri))
        wrong = [result for result in results if not result["ok"]]
        told = "; ".join(f"expected {result['expected']}, got {result['got']}" for result in wrong)
        server.window_show_message(
            types.ShowMessageParams(
                types.MessageType.Warning if wrong else types.MessageType.Info,
                f'"{title}": {told or "as it says"}',
            )
        )
        return results
