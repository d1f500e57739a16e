"""Build the bed page: now, what stands out, the last day as a grid, and what happened."""

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, timedelta

from msgspec.structs import replace

from app.charting.course import moments
from app.charting.derive import WorkedOut
from app.charting.event_facts import Event
from app.charting.facts import Assessment, Kind, Reading
from app.charting.field import Group, Manner
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.uses import fields_for
from app.pages.bed_acts import bed_acts, tube_out_href
from app.pages.bed_page import BedPage, EventLine, NowGroup
from app.pages.corrections import based
from app.pages.due_words import due_lines, nothing_due
from app.pages.episode_words import end_words, going_lines
from app.pages.frame import Frame
from app.pages.gas_words import of_its_sample, sample_words
from app.pages.grid import grid_columns, grid_groups, more_groups
from app.pages.known import Known
from app.pages.liberation_words import liberation_lines
from app.pages.not_yet import not_yet
from app.pages.number_links import RowLinks, opening_grid, opening_group
from app.pages.own_range_words import own_range_lines
from app.pages.shown import Drawn, Shown
from app.pages.support_words import support_words
from app.pages.target_words import ordered_words
from app.pages.times import clock_time, when_in
from app.pages.treatment_words import treatment_lines
from app.pages.values import absent, against, of_index, of_reading, tagged
from app.pages.worries import NO_FLAG, worries_of
from app.physiology.answer import Value
from app.physiology.catalogue import CATALOGUE
from app.rules.attempts import Worked, not_held, was_tried
from app.rules.board_cells import still_set
from app.rules.stale import stale_after
from app.rules.standing import Verdict
from app.rules.tubeless import (
    NO_TUBE,
    breathed_since,
    is_of_the_tube,
    not_since,
    tube_out_at,
    why_not,
)
from app.rules.unit_clock import UnitClock

COLUMNS = 7
DAY = timedelta(hours=24)
LUNGS_NOW = (
    "vt_per_pbw",
    "plateau_pressure_obs",
    "driving_pressure",
    "compliance_static",
    "peep_total",
    "rsbi",
    "rox",
)
GAS_NOW = ("spo2", "ph", "paco2", "pao2", "pf_ratio", "sf_ratio")


def bed_page(
    frame: Frame,
    course: Known,
    *,
    may_chart: bool,
    may_correct: bool = False,
    allowed: Collection[str] = (),
    before: datetime | None = None,
) -> BedPage:
    """The page of one patient; `before` shows the checks observed before that moment.

    `allowed` are the names of what the viewer may do.
    """
    facts, now, clock = course.facts, course.now, course.clock
    shown = _columns(course.every_row, before)
    rows = [row for row, _ in shown]
    links = RowLinks(facts.course_id, facts.assessments)
    earlier = _earlier(course.every_row, shown)
    base = f"/courses/{facts.course_id}"
    return BedPage(
        frame=frame,
        banner=course.banner,
        now=now_groups(course),
        worries=worries_of(course.summary, now, clock, every=True, words=course.words, base=base),
        quiet_words=NO_FLAG,
        due=due_lines(course.summary, now, clock),
        quiet_due=nothing_due(course.summary, now, clock),
        columns=grid_columns(rows, facts.course_id, now, clock),
        groups=opening_grid(
            grid_groups(shown, course.limit_at, was=course.was, words=course.words),
            rows,
            links,
        ),
        more=opening_grid(more_groups(shown, course.limit_at, words=course.words), rows, links),
        earlier_words=f"{earlier} earlier rows" if earlier else "",
        earlier_href=f"{base}?before={shown[0][0].observed_at:%Y%m%dT%H%M%SZ}" if earlier else "",
        events=tuple(
            _event_line(event, now, clock, f"{base}/events/{event.id}")
            for event in reversed(facts.events)
        ),
        assess_href=f"{base}/assess",
        gas_href=f"{base}/assess?kind=gas",
        brief_href=f"{base}/assess?kind=brief",
        event_href=f"{base}/events",
        handoff_href=f"{base}/handoff",
        may_chart=may_chart and facts.ended_at is None,
        row_words="correct or strike" if may_correct else "look closer",
        policy_words=f"Judged by {course.policy.words}",
        acts=bed_acts(facts, allowed),
        liberation=liberation_lines(facts, now, clock),
        treatments=treatment_lines(facts, now, clock),
        tube_out_href=tube_out_href(facts) if "CHART" in allowed else "",
        not_yet=not_yet(facts, may_chart="CHART" in allowed),
        ordered_words=ordered_words(facts.targets),
        own_ranges=own_range_lines(facts, now, clock, course.words),
        going=going_lines(facts, course.policy, clock, now),
    )


def _columns(worked: Worked, before: datetime | None) -> Worked:
    rows = [entry for entry in worked if before is None or entry[0].observed_at < before]
    return rows[-COLUMNS:]


def _earlier(worked: Worked, shown: Worked) -> int:
    return sum(1 for row, _ in worked if shown and row.observed_at < shown[0][0].observed_at)


def now_groups(course: Known) -> tuple[NowGroup, ...]:
    """Support, lungs and gas as they stand, each with its time; every number opens."""
    groups = (_support_now(course), _lungs_now(course), _gas_now(course))
    return tuple(opening_group(group, course.facts.course_id) for group in groups)


def _support_now(course: Known) -> NowGroup:
    family, since = course.summary.family, course.summary.family_since
    latest = course.facts.latest_readings()
    codes = [
        field.code
        for field in fields_for(family or "other", Kind.FULL)
        if field.group is Group.SETTINGS and field.manner is Manner.SETTING
    ]
    shown = tuple(
        _reading_now(latest[code], course)
        for code in codes
        if code in latest and latest[code].has_value and latest[code].number is not None
        if family not in ("", "standby") or still_set(latest[code], since)
    )
    heading = support_words(course.summary)
    if family in ("", "standby") and not shown and since is not None:
        at = clock_time(since, course.now, course.clock)
        words = f"On standby since {at}" if family else f"Since {at}"
        return NowGroup(heading, "", (), f"{words}: no setting is in force.")
    return _group(heading, "settings", shown[:8])


def _group(heading: str, what: str, shown: Sequence[Shown]) -> NowGroup:
    """A group whose heading says the time that most numbers share; the others say their own."""
    times = [value.when.text for value in shown if value.when is not None]
    if not times:
        return NowGroup(heading, f"{what} not charted", tuple(shown))
    common = max(times, key=times.count)
    return NowGroup(heading, f"{what}, {common}", tuple(_own_time(each, common) for each in shown))


def _own_time(shown: Shown, common: str) -> Shown:
    if shown.when is None or shown.when.text == common or not shown.text:
        return shown
    return replace(shown, word=" · ".join(filter(None, (shown.word, shown.when.text))))


def _reading_now(reading: Reading, course: Known) -> Shown:
    shown = of_reading(course.words.fields[reading.field], reading)
    at = reading.observed_at
    return _aged(_judged(shown, at, course), at, course)


def _judged(shown: Shown, at: datetime, course: Known) -> Shown:
    limit = course.limit_at(shown.key, at)
    row, answers = _row_of(shown.key, at, course)
    why = not_held(shown.key, row, answers) if row is not None and limit is not None else None
    if why is not None:
        return tagged(shown, why)
    statement = course.statements.get(shown.key)
    run = 2 if statement is not None and statement.verdict is Verdict.OUTSIDE else 1
    seen = against(shown, limit, run=run)
    return seen if row is None else of_its_sample(seen, row)


def _row_of(
    key: str, at: datetime, course: Known
) -> tuple[Assessment | None, Mapping[str, WorkedOut]]:
    """The row that holds a charted value with its answers; none for an index."""
    holds = (found for found in reversed(course.worked) if key in found[0].readings)
    row, answers = next(holds, (None, {})) if key in FIELDS else (None, {})
    return (row, answers) if row is not None and row.observed_at == at else (None, {})


def _aged(shown: Shown, at: datetime, course: Known) -> Shown:
    stale = course.now >= at + stale_after(shown.key, course.policy)
    return replace(shown, when=when_in(at, course.now, course.clock), stale=stale)


def _lungs_now(course: Known) -> NowGroup:
    family = family_of(course.summary.family)
    if course.summary.family and not family.ventilates:
        words = f"No volumes or pressures to read: {family.label.lower()}"
        shown = tuple(filter(None, [_since_high_flow(_value_now("rox", course), course)]))
        return NowGroup("Lungs", "", tuple(value for value in shown if value.text), words)
    since = course.summary.family_since
    if not course.summary.family and since is not None:
        at = clock_time(since, course.now, course.clock)
        return NowGroup("Lungs", "", (), f"Nothing of them was charted since {at}.")
    values = [_value_now(key, course) for key in LUNGS_NOW]
    shown = tuple(value for value in values if value.drawn is not Drawn.NOTHING)
    return _group("Lungs", "worked out", shown)


def _since_high_flow(shown: Shown, course: Known) -> Shown:
    """ROX with the hours since high flow began: its cut-offs go by them (Roca 2019)."""
    since, summary = course.summary.family_since, course.summary
    if not shown.text or summary.family != "hfnc" or since is None:
        return shown
    found = _newest_answer("rox", course.worked)
    hours = int((found[0].observed_at - since) / timedelta(hours=1)) if found else 0
    return replace(shown, word=" · ".join(filter(None, (shown.word, f"{hours} h on high flow"))))


def _gas_now(course: Known) -> NowGroup:
    values = [_value_now(key, course) for key in GAS_NOW]
    shown = tuple(value for value in values if value.drawn is not Drawn.NOTHING)
    gases = (each for each in reversed(moments(course.facts, course.site)) if each.is_gas)
    newest = next(gases, None)
    group = _group("Gas", "newest", shown)
    if newest is None:
        return group
    at = clock_time(newest.row.observed_at, course.now, course.clock)
    own_time = "" if group.note.endswith(at) else f"sample of {at} "
    words = sample_words(newest, course.words)
    return replace(group, note=f"{group.note}, {own_time}{words}")


def _value_now(key: str, course: Known) -> Shown:
    """The newest value of a field or index, or the reason why the newest row has none."""
    if key in FIELDS:
        reading = course.facts.latest_readings().get(key)
        if reading is None:
            group_is_gas = FIELDS[key].group is Group.GAS
            drawn = Drawn.NOTHING if group_is_gas else Drawn.NOT_MEASURED
            return absent(FIELDS[key].name, drawn, "not charted", key)
        return _of_the_tube_out(key, reading.observed_at, course) or _reading_now(reading, course)
    found = _newest_answer(key, course.worked)
    if found is None:
        return absent(CATALOGUE[key].short_label, Drawn.NOTHING, "", key)
    row, worked = found
    if gone := _of_the_tube_out(key, row.observed_at, course):
        return gone
    shown = based(of_index(CATALOGUE[key], worked), row, worked, course.was)
    return _aged(_judged(shown, row.observed_at, course), row.observed_at, course)


def _of_the_tube_out(key: str, at: datetime, course: Known) -> Shown | None:
    """What stands in the place of a value read through a tube that has come out since."""
    out = tube_out_at(course.facts)
    if out is None or at >= out or not is_of_the_tube(key):
        return None
    why = why_not(key, breathed_since(course.facts.standing, out))
    label = FIELDS[key].name if key in FIELDS else CATALOGUE[key].short_label
    drawn = Drawn.NOTHING if why == NO_TUBE else Drawn.NOT_MEASURED
    return absent(label, drawn, why or not_since(key), key)


def _newest_answer(key: str, worked: Worked) -> tuple[Assessment, WorkedOut] | None:
    """The newest number, unless a newer row tried for one and says why there is none."""
    wanted = Kind.GAS if key == "pf_ratio" else Kind.FULL
    silent: tuple[Assessment, WorkedOut] | None = None
    for row, answers in reversed(worked):
        found = (row, answers[key])
        if isinstance(answers[key].answer, Value):
            return found
        if row.kind is wanted and was_tried(answers[key]):
            return found
        silent = silent or (found if row.kind is wanted else None)
    return silent


def _event_line(event: Event, now: datetime, clock: UnitClock, href: str) -> EventLine:
    words = f"{event.words}{end_words(event, now, clock)}"
    return EventLine(when_in(event.observed_at, now, clock), words, event.author, href)
