"""A course as a run of moments: each row with what was in force, near and known around it."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from app.charting.airways import tubes_moved
from app.charting.facts import Assessment, BodySize, CourseFacts, Kind, Reading
from app.charting.in_force import (
    MAX_AGE,
    InForce,
    airway_at,
    each_in_force,
    going_on,
    unless_standby,
)
from app.charting.moment import NEAR, Moment

_READ_WITH_A_GAS = ("minute_vent_obs", "mean_airway_pressure_obs", "hold_passive")


def moments(facts: CourseFacts, *, adult_age_y: int, barometric_mmhg: Decimal) -> Iterator[Moment]:
    """Each row that counts, oldest first, as a moment; one pass over the rows."""
    body = body_known(facts)
    seen: dict[str, Reading] = {}
    for row, known in each_in_force(facts.standing, tubes_moved(facts.airways)):
        # A row that names its mode has looked at the machine, and says itself what holds.
        holds = known if row.mode_family else unless_standby(facts.events, row.observed_at, known)
        seen.update(_noted(row))
        airway = airway_at(facts.airways, row.observed_at)
        yield Moment(
            row=row,
            family=holds.family,
            settings=holds.settings,
            near=_near(row, seen) if row.kind is Kind.GAS else {},
            body=body,
            age_y=facts.age_y,
            adult_age_y=adult_age_y,
            airway_category=airway.category if airway else "",
            barometric_mmhg=barometric_mmhg,
            ecmo=_membrane_lung(facts, row, holds, seen),
            oxygen_age=(
                row.observed_at - holds.oxygen_changed_at if holds.oxygen_changed_at else None
            ),
        )


def body_known(facts: CourseFacts) -> BodySize | None:
    """The newest body size with a height; it counts for every row of the course, earlier too.

    A height that is corrected corrects what was worked out from it; what was handed over before is
    kept elsewhere, as it was. Without any height the newest size, None where there is none.
    """
    with_height = [size for size in facts.body_sizes if size.height_cm is not None]
    known = with_height or list(facts.body_sizes)
    return known[-1] if known else None


def _noted(row: Assessment) -> Iterator[tuple[str, Reading]]:
    for code in (*_READ_WITH_A_GAS, "ecmo_flow_lpm"):
        reading = row.readings.get(code)
        if reading is not None and reading.has_value:
            yield code, reading


def _near(row: Assessment, seen: Mapping[str, Reading]) -> dict[str, Reading]:
    return {
        code: seen[code]
        for code in _READ_WITH_A_GAS
        if code in seen and row.observed_at - seen[code].observed_at <= NEAR
    }


def _membrane_lung(
    facts: CourseFacts, row: Assessment, holds: InForce, seen: Mapping[str, Reading]
) -> str:
    """ "ecmo" while extracorporeal support is charted as running, by its flows or as an event."""
    if going_on(facts.events, "ecmo", row.observed_at):
        return "ecmo"
    flow = seen.get("ecmo_flow_lpm")
    if flow is not None and row.observed_at - flow.observed_at > MAX_AGE:
        flow = None
    running = any(known and known.number for known in (holds.settings.get("ecmo_sweep_lpm"), flow))
    return "ecmo" if running else ""
