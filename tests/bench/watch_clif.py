"""The rules on the open CLIF demo tables: raises per bed-day, and how many are gone at once."""

from collections.abc import Iterator, Mapping
from datetime import datetime, time

from msgspec import Struct

from app.charting.facts import CourseFacts
from app.exchange.clif_people import Heights
from app.exchange.clif_plan import PlannedCourse, plan_of
from app.exchange.clif_tables import read_tables
from app.exchange.replay_rows import Columns, facts_of
from app.rules.policy import Policy
from app.rules.unit_clock import UnitClock
from app.rules.watch import Flag, Sighting, flags_of, sightings
from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule
from app.rules.watch.rules import RULES
from app.rules.watch.step import Fall, Slide, Step
from app.rules.watch.words import bounds_of
from tests.bench.watch_figures import Raise, merged
from tests.bench.watch_naive import any_value_outside
from tests.exchange.clif_demo import FOLDER

CLOCK = UnitClock("UTC", (time(7), time(19)))
BY_KEY = {rule.key: rule for rule in RULES}


class Counted(Struct):
    """Raises of one rule set over all bed-days, and how many had a next value that was back."""

    raises: int = 0
    merged: int = 0
    followed: int = 0
    gone: int = 0


class OnTables(Struct, frozen=True):
    """Bed-days of invasive support and what each rule set raised on them; safety apart."""

    courses: int
    bed_days: float
    rules: Counted
    naive: Counted


def on_tables(policy: Policy) -> OnTables:
    """Fold every course with a tube; a band of saturation is in no table, so none is judged."""
    rules, naive, courses, hours = Counted(), Counted(), 0, 0.0
    for facts in _courses():
        rows = list(sightings(facts, policy))
        if not rows:
            continue
        courses += 1
        hours += (rows[-1].at - rows[0].at).total_seconds() / 3600
        flags = [f for f in flags_of(facts, policy, rows[-1].at) if f.group != "safety"]
        _count(rules, [Raise(f.group, f.raised_at, f.cleared_at) for f in flags])
        for found in flags:
            _follow(rules, found, rows, policy)
        _count(naive, [r for r in any_value_outside(rows, policy) if r.group != "safety"])
        _follow_runs(naive, rows, policy)
    return OnTables(courses, hours / 24, rules, naive)


def _courses() -> Iterator[CourseFacts]:
    tables = read_tables(FOLDER)
    heights = Heights(tables.stays, tables.vitals)
    for planned in plan_of(tables, CLOCK).courses:
        if planned.course.invasive and planned.checks:
            person = tables.stays[planned.course.stay]
            height = heights.of(planned.course.stay, planned.course.started_at)
            about = {
                "height_cm": f"{height.number}" if height and height.number else "",
                "pbw_sex": person.sex,
                "age_y": "" if person.age_y is None else f"{person.age_y}",
            }
            yield _facts(planned, about)


def _facts(planned: PlannedCourse, about: dict[str, str]) -> CourseFacts:
    rows = [
        (check.at, {**about, "mode_family": check.family, **_plain(check.typed)})
        for check in planned.checks
    ]
    names = sorted({name for _, row in rows for name in row} | {"hold_passive"})
    columns = Columns({name: place for place, name in enumerate(names)})
    lines = [(at, [row.get(name, "") for name in names]) for at, row in rows]
    return facts_of(planned.course.key, lines, columns)


def _plain(typed: Mapping[str, str]) -> dict[str, str]:
    """A number without the unit behind it; gases stand in the field's own or are left out."""
    return {code: text.split(" ")[0] for code, text in typed.items()}


def _count(counted: Counted, raises: list[Raise]) -> None:
    counted.raises += len(raises)
    counted.merged += sum(map(len, merged(raises).values()))


def _follow(counted: Counted, flag: Flag, rows: list[Sighting], policy: Policy) -> None:
    after = _next(flag.series, flag.raised_at, rows)
    if after is None:
        return
    row, value = after
    counted.followed += 1
    rule = BY_KEY[flag.rule]
    bounds = bounds_of(rule, policy, row.band_low)
    if bounds is None:
        return
    if isinstance(rule.test, Beyond):
        counted.gone += not rule.test.side_of(value, bounds)
    elif isinstance(rule.test, Step | Fall | Slide):
        by = bounds.figures.number_or("twice", bounds.figures.number_or("by", 0))
        counted.gone += rule.test.change.of(value, float(flag.against)) < by


def _next(series: str, at: datetime, rows: list[Sighting]) -> tuple[Sighting, float] | None:
    later = ((row, row.values[series]) for row in rows if row.at > at and series in row.values)
    return next(later, None)


def _follow_runs(counted: Counted, rows: list[Sighting], policy: Policy) -> None:
    """Of the first values of runs outside: how many have a next value, how many are gone by it."""
    for rule in RULES:
        if rule.drift or rule.information or rule.group == "safety":
            continue
        outside = [_outside(rule, row, policy) for row in rows if rule.series in row.values]
        for before, now, after in zip([False, *outside], outside, outside[1:], strict=False):
            if now and not before:
                counted.followed += 1
                counted.gone += not after


def _outside(rule: Rule, row: Sighting, policy: Policy) -> bool:
    bounds = bounds_of(rule, policy, row.band_low)
    if bounds is None or not isinstance(rule.test, Beyond):
        return False
    return bool(rule.test.side_of(row.values[rule.series], bounds))
