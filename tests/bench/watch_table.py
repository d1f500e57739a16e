"""From judged courses to the table of figures: quiet courses, events, open tables."""

from collections.abc import Sequence
from typing import Any

from tests.bench.simulator.course import DAYS
from tests.bench.simulator.events import EVENTS
from tests.bench.simulator.wards import Ward
from tests.bench.watch_clif import Counted, OnTables
from tests.bench.watch_figures import (
    SHIFT_H,
    mean_interval,
    median_interval,
    share_interval,
)
from tests.bench.watch_judge import BLOCKS, SETS, Outcome

Table = dict[str, Any]
SHIFTS = DAYS * 24 / SHIFT_H


def blocks_of(done: Sequence[Outcome]) -> list[Table]:
    """One block for each ward and noise; an interval is [middle, low, high]."""
    return [_block(ward, noise, done) for ward, noise in BLOCKS]


def _block(ward: Ward, noise: float, done: Sequence[Outcome]) -> Table:
    here = [found for found in done if (found.job.ward, found.job.noise) == (ward.name, noise)]
    quiet = [found for found in here if found.job.event < 0]
    return {
        "ward": ward.name,
        "noise": noise,
        "quiet": [_quiet(name, place, quiet) for place, name in enumerate(SETS)],
        "groups": _counted(quiet, [found.by_group[0] for found in quiet]),
        "rules": _counted(quiet, [dict.fromkeys(found.rules, 1) for found in quiet]),
        "events": [
            _event(number, [found for found in here if found.job.event == number])
            for number in range(len(EVENTS))
        ],
    }


def _quiet(name: str, place: int, quiet: Sequence[Outcome]) -> Table:
    waiting = [count for found in quiet for count in found.waiting[place]]
    return {
        "set": name,
        "courses": len(quiet),
        "per_shift": _rounded(mean_interval([f.raised[place] / SHIFTS for f in quiet]), 3),
        "open_at_handoff": round(sum(waiting) / len(waiting), 2),
        "handoffs_without": round(sum(count == 0 for count in waiting) / len(waiting), 3),
    }


def _counted(quiet: Sequence[Outcome], counts: Sequence[dict[str, int]]) -> dict[str, float]:
    """So many a shift of each."""
    names = sorted({name for count in counts for name in count})
    shifts = len(quiet) * SHIFTS
    return {n: round(sum(count.get(n, 0) for count in counts) / shifts, 4) for n in names}


def _event(number: int, told: Sequence[Outcome]) -> Table:
    event = EVENTS[number]
    sets = [_found(name, [f.delay[place] for f in told]) for place, name in enumerate(SETS)]
    return {"name": event.name, "words": event.words, "courses": len(told), "sets": sets}


def _found(name: str, delays: Sequence[float | None]) -> Table:
    hours = [delay for delay in delays if delay is not None]
    return {
        "set": name,
        "found": _rounded(share_interval(len(hours), len(delays)), 3),
        "delay_h": _rounded(median_interval(hours), 1) if hours else None,
    }


def tables_of(seen: OnTables) -> Table:
    """The open tables' figures."""
    sets = (("rules", seen.rules), ("any value outside", seen.naive))
    return {
        "courses": seen.courses,
        "bed_days": round(seen.bed_days),
        "sets": [_on_tables(name, counted, seen.bed_days) for name, counted in sets],
    }


def _on_tables(name: str, counted: Counted, bed_days: float) -> Table:
    return {
        "set": name,
        "raises_per_bed_day": round(counted.raises / bed_days, 2),
        "merged_per_bed_day": round(counted.merged / bed_days, 2),
        "gone_at_next": _rounded(share_interval(counted.gone, counted.followed), 3),
    }


def _rounded(interval: tuple[float, float, float], places: int) -> list[float]:
    return [round(number, places) for number in interval]
