"""Scenarios of features/light."""

from pytest_bdd import scenarios

scenarios("light")
