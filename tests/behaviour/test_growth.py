"""Scenarios of features/growth."""

from pytest_bdd import scenarios

scenarios("growth")
