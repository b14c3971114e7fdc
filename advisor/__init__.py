"""A placement advisor for reef aquaria: rules, reasons, and the numbers behind them."""

from advisor.api import Session as Session
from advisor.api import add_coral as add_coral
from advisor.api import add_reading as add_reading
from advisor.api import add_spot as add_spot
from advisor.api import card as card
from advisor.api import check_rules as check_rules
from advisor.api import handle as handle
from advisor.api import move as move
from advisor.api import new_tank as new_tank
from advisor.api import open_tank as open_tank
from advisor.api import run_examples as run_examples
from advisor.api import schema as schema
from advisor.errors import AdvisorError as AdvisorError
from advisor.errors import Problem as Problem

__all__ = [
    "AdvisorError",
    "Problem",
    "Session",
    "add_coral",
    "add_reading",
    "add_spot",
    "card",
    "check_rules",
    "handle",
    "move",
    "new_tank",
    "open_tank",
    "run_examples",
    "schema",
]
