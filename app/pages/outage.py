"""What lies ready for hours without the program, and what is said of them afterwards."""

from datetime import datetime

from msgspec import Struct

from app.pages.frame import CAUTIONS
from app.pages.times import clock_time, full_time
from app.record.outages import Outage
from app.rules.unit_clock import UnitClock


class KeptSet(Struct, frozen=True):
    """One set of files: where it lies beside this page, and of which moment it is."""

    href: str
    blank_href: str
    as_of: str
    made: str


class OutageIndex(Struct, frozen=True):
    """The first page of the folder: the newest set with its moment in large letters."""

    title: str
    unit_name: str
    newest: KeptSet
    older: tuple[KeptSet, ...]
    styles: tuple[str, ...]
    cautions: str = CAUTIONS


def outage_index(unit_name: str, sets: dict[str, datetime], clock: UnitClock) -> OutageIndex:
    """`sets` are the folders with their moments; there is at least one."""
    newest, *older = (
        KeptSet(
            href=f"{name}/handoff.html",
            blank_href=f"{name}/blank.html",
            as_of=f"as of {clock_time(at, at, clock)}",
            made=full_time(at, clock).text,
        )
        for name, at in sorted(sets.items(), reverse=True)
    )
    folder = newest.href.partition("/")[0]
    styles = tuple(f"{folder}/css/{name}.css" for name in ("tokens", "base", "sheets"))
    return OutageIndex(f"Handoffs on file · {unit_name}", unit_name, newest, tuple(older), styles)


def outage_words(outage: Outage, now: datetime, clock: UnitClock) -> str:
    """The span as a sentence over a page."""
    start, end = (clock_time(at, now, clock) for at in (outage.from_at, outage.to_at))
    return (
        f"On paper from {start} to {end}: {outage.words} ({outage.author})."
        " Checks of that time may come from paper, or be missing still."
    )
