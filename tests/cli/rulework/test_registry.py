"""Every verb named has its module, and nothing lies about unused."""

from __future__ import annotations

import argparse
from pathlib import Path

from advisor.cli.rulework import registry


def test_every_verb_offers_options_and_a_run() -> None:
    for verb in registry.VERBS:
        tool = registry.tool(verb)
        tool.options(argparse.ArgumentParser())
        assert callable(tool.run)


def test_every_module_is_a_verb() -> None:
    folder = Path(registry.__file__).parent
    assert {file.stem for file in folder.glob("*.py")} - {"__init__", "registry"} == set(registry.VERBS)
