"""Scenarios of features/planning."""

from pytest_bdd import scenarios

scenarios("planning")
