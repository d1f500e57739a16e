"""What the rules measured: figures of `make bench-watch`, kept in a file with what they hold for.

The bench writes `watch_figures.json`; nobody edits it. Its fingerprint is of the rules, their
numbers and what they raise on fixed simulated courses, and a test holds it to the rules in force.
"""

import json
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct

FIGURES_FILE = Path(__file__).with_name("watch_figures.json")


class Interval(Struct, frozen=True):
    """A figure and the ends of its 95 % interval."""

    middle: float
    low: float
    high: float


class Found(Struct, frozen=True):
    """What was simulated, on how many courses, the share found, and hours until then."""

    words: str
    courses: int
    share: Interval
    hours: Interval | None


class Block(Struct, frozen=True):
    """One simulated ward at one charting noise (SD of one pressure, cmH2O)."""

    ward: str
    noise: float
    quiet_courses: int
    per_shift: Interval
    per_shift_naive: Interval
    open_at_handoff: float
    handoffs_without: float
    found: tuple[Found, ...]


class OnTables(Struct, frozen=True):
    """On open, de-identified charts: what was raised, and the share gone at the next value."""

    courses: int
    bed_days: float
    per_bed_day: float
    gone_at_next: Interval


class Measured(Struct, frozen=True):
    """Everything the bench measured, when, on what, and for which rules."""

    measured_on: str
    measured_with: str
    seeds_from: int
    days: int
    fingerprint: str
    blocks: tuple[Block, ...]
    tables: OnTables


@cache
def measured() -> Measured:
    """The figures that ship with the program."""
    tree = json.loads(FIGURES_FILE.read_text(encoding="utf-8"))
    return Measured(
        measured_on=tree["measured_on"],
        measured_with=tree["measured_with"],
        seeds_from=tree["seeds_from"],
        days=tree["days"],
        fingerprint=tree["fingerprint"],
        blocks=tuple(map(_block, tree["blocks"])),
        tables=_tables(tree["tables"]),
    )


def _block(block: Mapping[str, Any]) -> Block:
    rules, naive = block["quiet"][0], block["quiet"][1]
    return Block(
        block["ward"],
        block["noise"],
        rules["courses"],
        Interval(*rules["per_shift"]),
        Interval(*naive["per_shift"]),
        rules["open_at_handoff"],
        rules["handoffs_without"],
        tuple(map(_found, block["events"])),
    )


def _found(event: Mapping[str, Any]) -> Found:
    rules = event["sets"][0]
    hours = Interval(*rules["delay_h"]) if rules["delay_h"] else None
    return Found(event["words"], event["courses"], Interval(*rules["found"]), hours)


def _tables(tables: Mapping[str, Any]) -> OnTables:
    rules = tables["sets"][0]
    return OnTables(
        tables["courses"],
        tables["bed_days"],
        rules["raises_per_bed_day"],
        Interval(*rules["gone_at_next"]),
    )
