"""Build the plan of a shift: each bed with who has it and who is to have it, each person's load."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from msgspec import Struct, field

from app.pages.assigned_words import MOVES_NOTHING, WEIGHTS, cover_words, load_words
from app.pages.assignments_page import (
    AssignBed,
    AssignmentsPage,
    CoverForm,
    CoverLine,
    PersonLoad,
)
from app.pages.board import BoardBed
from app.pages.frame import Frame, NavLink
from app.pages.handing_over import hold_words
from app.pages.handoff_page import Choice
from app.pages.times import clock_time, input_time, iso
from app.rules.load import Load, load_of, uneven
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock

SHIFTS = {"this": "This shift", "next": "Next shift"}
NOBODY = "nobody"


class PlanReader(Struct, frozen=True):
    """Who looks, what they may, and who can be assigned (id and name)."""

    id: str
    assigns: bool
    covers: bool
    takers: tuple[tuple[str, str], ...]


class PlanTyped(Struct, frozen=True):
    """What a form brought back that was not saved, and why."""

    error: str = ""
    beds: Mapping[str, str] = field(default_factory=dict)
    """Who was chosen, by bed code."""
    bed_errors: Mapping[str, str] = field(default_factory=dict)
    cover_error: str = ""
    cover: Mapping[str, str] = field(default_factory=dict)


def assignments_page(
    frame: Frame,
    beds: Sequence[BoardBed],
    plan: Plan,
    *,
    which: str,
    reader: PlanReader,
    events: Mapping[str, int],
    clock: UnitClock,
    now: datetime,
    typed: PlanTyped | None = None,
) -> AssignmentsPage:
    """The plan at `now`. `events` counts each course's events lately, by course."""
    typed = typed or PlanTyped()
    loads = _loads(beds, plan, events, now)
    return AssignmentsPage(
        frame=frame,
        shifts=_shifts(which, clock, now),
        starts=iso(plan.starts_at),
        beds=tuple(_bed(bed, plan, reader, typed, clock, now) for bed in beds),
        unassigned=_unassigned(beds, plan),
        loads=tuple(
            PersonLoad(name, load_words(load), f"sum {load.weight}") for name, load in loads.items()
        ),
        hint=_hint(loads),
        weights=WEIGHTS,
        moves_nothing=MOVES_NOTHING,
        covers=tuple(_covers(plan, reader, clock, now)),
        form=_cover_form(reader, plan, typed, clock, now) if reader.covers else None,
        edits=reader.assigns,
        error=typed.error,
    )


def _shifts(which: str, clock: UnitClock, now: datetime) -> tuple[NavLink, ...]:
    start, end = clock.shift_start(now), clock.shift_end(now)
    spans = {"this": (start, end), "next": (end, clock.shift_end(end))}
    return tuple(
        NavLink(
            f"{label}, {clock_time(spans[key][0], now, clock)} to "
            f"{clock_time(spans[key][1], spans[key][1], clock)}",
            f"/assignments?shift={key}",
            current=key == which,
        )
        for key, label in SHIFTS.items()
    )


def _bed(
    bed: BoardBed,
    plan: Plan,
    reader: PlanReader,
    typed: PlanTyped,
    clock: UnitClock,
    now: datetime,
) -> AssignBed:
    summary, name = bed.summary, plan.assigned_name(bed.code)
    chosen = typed.beds.get(bed.code, plan.assigned_id(bed.code))
    people = dict(reader.takers)
    if plan.assigned_id(bed.code):  # somebody who has left since is still who was chosen
        people.setdefault(plan.assigned_id(bed.code), name)
    return AssignBed(
        bed=bed.code,
        href=f"/beds/{bed.code}",
        who=summary.name if summary else bed.note or "Empty",
        hold=hold_words(summary.handoff, clock, now) if summary else "",
        assigned=f"assigned to {name}" if name else "nobody assigned",
        differs=summary is not None and plan.differs(bed.code, summary.handoff),
        was=plan.assigned[bed.code].id if bed.code in plan.assigned else "",
        choices=(
            Choice("", NOBODY, not chosen),
            *(Choice(key, label, key == chosen) for key, label in people.items()),
        ),
        error=typed.bed_errors.get(bed.code, ""),
    )


def _unassigned(beds: Sequence[BoardBed], plan: Plan) -> str:
    codes = [bed.code for bed in beds if bed.summary and not plan.assigned_id(bed.code)]
    return f"Nobody is assigned to {', '.join(codes)}." if codes else ""


def _loads(
    beds: Sequence[BoardBed], plan: Plan, events: Mapping[str, int], now: datetime
) -> dict[str, Load]:
    """What each assigned person's beds hold now, by name."""
    theirs: dict[str, list[BoardBed]] = {}
    for bed in beds:
        if bed.summary is not None and plan.assigned_id(bed.code):
            theirs.setdefault(plan.assigned_name(bed.code), []).append(bed)
    return {
        name: load_of(
            [(bed.summary, events.get(bed.course_id, 0)) for bed in found if bed.summary], now
        )
        for name, found in sorted(theirs.items())
    }


def _hint(loads: Mapping[str, Load]) -> str:
    apart = uneven(loads)
    if apart is None:
        return ""
    heaviest, lightest = apart
    return (
        f"The beds of {heaviest} weigh {loads[heaviest].weight}, those of {lightest} "
        f"{loads[lightest].weight}. A hint for whoever plans, no rule."
    )


def _covers(plan: Plan, reader: PlanReader, clock: UnitClock, now: datetime) -> Iterator[CoverLine]:
    for cover in plan.covers:
        if cover.to_at <= now:
            continue
        ends = reader.assigns or (reader.covers and reader.id in (cover.staff_id, cover.for_id))
        action = f"/assignments/covers/{cover.id}/end" if ends else ""
        yield CoverLine(f"{cover_words(cover, now, clock)} (said by {cover.author})", action)


def _cover_form(
    reader: PlanReader, plan: Plan, typed: PlanTyped, clock: UnitClock, now: datetime
) -> CoverForm:
    given = typed.cover
    covering = given.get("staff", reader.id)
    return CoverForm(
        covering=_people(reader, covering),
        covered=_people(reader, given.get("for", "")),
        from_at=given.get("from_at", input_time(now, clock)),
        to_at=given.get("to_at", ""),
        words=given.get("words", ""),
        zone=clock.zone,
        twice=clock.change_near(now) or clock.change_near(plan.ends_at),
        error=typed.cover_error,
    )


def _people(reader: PlanReader, chosen: str) -> tuple[Choice, ...]:
    return (
        Choice("", "choose", not chosen),
        *(Choice(key, name, key == chosen) for key, name in reader.takers),
    )
