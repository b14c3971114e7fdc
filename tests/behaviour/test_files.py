"""Scenarios of features/files."""

from pytest_bdd import scenarios

scenarios("files")
