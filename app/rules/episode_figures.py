"""The unit's numbers for prone sessions and breathing trials, each with its source."""

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from typing import Any

from msgspec import Struct

from app.rules.figures import STARTING_POLICY_FILE
from app.rules.policy_error import PolicyError

NUMBERS = ("prone_h", "screen_every_h", "screen_fio2", "screen_peep")
LONGEST_H = 240


class EpisodeFigures(Struct, frozen=True):
    """How long a prone session is meant to last, how often somebody is screened, and up to where.

    Zero for `screen_every_h`: the unit makes no screen due.
    """

    prone_h: Decimal
    prone_source: str
    screen_every_h: Decimal
    screen_fio2: Decimal
    screen_peep: Decimal
    screen_source: str


def read_episodes(tree: Mapping[str, Any]) -> EpisodeFigures:
    """The policy's own numbers; a policy from before they existed takes those that ship."""
    own = tree.get("episodes", {})
    if not isinstance(own, dict):
        raise PolicyError("episodes", "must be a table of numbers with their sources")
    told = {**_shipped(), **own}
    numbers = {name: _number(told, name) for name in NUMBERS}
    if numbers["prone_h"] <= 0:
        raise PolicyError("episodes.prone_h", "must be above zero")
    sources = {name: str(told[name]).strip() for name in ("prone_source", "screen_source")}
    for name, source in sources.items():
        if not source:
            raise PolicyError(f"episodes.{name}", "says where the numbers come from")
    return EpisodeFigures(**numbers, **sources)  # type: ignore[arg-type]


@cache
def _shipped() -> Mapping[str, Any]:
    text = STARTING_POLICY_FILE.read_text(encoding="utf-8")
    table: Mapping[str, Any] = tomllib.loads(text, parse_float=Decimal)["episodes"]
    return table


def _number(table: Mapping[str, Any], name: str) -> Decimal:
    value, where = table[name], f"episodes.{name}"
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise PolicyError(where, "must be a number")
    number = Decimal(value)
    if not number.is_finite() or not 0 <= number <= LONGEST_H:
        raise PolicyError(where, f"must be a number from 0 to {LONGEST_H}")
    return number
