"""Scenarios of features/spacing."""

from pytest_bdd import scenarios

scenarios("spacing")
