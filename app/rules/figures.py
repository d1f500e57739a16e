"""The numbers of the rules, from a policy's `[rules.*]` tables, each with its source.

A policy that was written before a rule existed takes that rule's numbers from the policy that
ships, so that an old version can still be read; a name that no rule has is refused.
"""

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct

from app.rules.policy_error import PolicyError

STARTING_POLICY_FILE = Path(__file__).with_name("starting_policy.toml")


class Figures(Struct, frozen=True):
    """One rule's numbers by name, where they come from, and whether the unit uses the rule."""

    numbers: Mapping[str, float]
    source: str
    on: bool = True

    def __getitem__(self, name: str) -> float:
        return self.numbers[name]

    def count(self, name: str) -> int:
        """A number of values; at least one."""
        return int(self.numbers[name]) or 1

    def get(self, name: str) -> float | None:
        """The number, or None where this rule has none of that name."""
        return self.numbers.get(name)

    def number_or(self, name: str, otherwise: float) -> float:
        """The number, or another where this rule has none of that name."""
        return self.numbers.get(name, otherwise)


def read_rules(tree: Mapping[str, Any]) -> Mapping[str, Figures]:
    """Every rule's numbers: the policy's own where it gives them, else those that ship."""
    shipped = _shipped()
    own = tree.get("rules", {})
    if not isinstance(own, dict):
        raise PolicyError("rules", "must hold one table for each rule")
    for key, table in own.items():
        _check(key, table, shipped)
    return {key: _figures({**table, **own.get(key, {})}) for key, table in shipped.items()}


@cache
def _shipped() -> Mapping[str, Mapping[str, Any]]:
    text = STARTING_POLICY_FILE.read_text(encoding="utf-8")
    tables: Mapping[str, Mapping[str, Any]] = tomllib.loads(text, parse_float=Decimal)["rules"]
    return tables


def _check(key: str, table: object, shipped: Mapping[str, Mapping[str, Any]]) -> None:
    where = f"rules.{key}"
    if key not in shipped:
        raise PolicyError(where, "no rule has this name")
    if not isinstance(table, dict):
        raise PolicyError(where, "must be a table of numbers with their `source`")
    for name, value in table.items():
        _check_entry(f"{where}.{name}", name, value, shipped[key])
    numbers = {name for name in table if name not in ("source", "on")}
    if numbers and not str(table.get("source", "")).strip():
        raise PolicyError(f"{where}.source", "says where the numbers come from; it is missing")


def _check_entry(where: str, name: str, value: object, shipped: Mapping[str, Any]) -> None:
    if name == "on":
        if not isinstance(value, bool):
            raise PolicyError(where, "must be true or false")
        return
    if name not in shipped:
        raise PolicyError(where, f"this rule has {', '.join(shipped)}")
    if name != "source" and not _is_number(value):
        raise PolicyError(where, "must be a finite number, zero or above")


def _is_number(value: object) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return False
    number = Decimal(value)
    return number.is_finite() and number >= 0


def _figures(table: Mapping[str, Any]) -> Figures:
    numbers = {name: float(value) for name, value in table.items() if name not in ("source", "on")}
    return Figures(numbers, str(table["source"]), table.get("on") is not False)
