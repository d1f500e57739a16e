"""A course as a run of moments: each row with what was in force, near and known around it.

A course that only grew at its end is walked on from where it was; any other is walked anew.
"""

from collections.abc import Iterator, Mapping, Sequence

from app.charting.airways import tubes_moved
from app.charting.facts import Assessment, BodySize, CourseFacts, Kind, Reading
from app.charting.in_force import (
    MAX_AGE,
    Course,
    InForce,
    airway_at,
    each_in_force,
    going_on,
    unless_standby,
)
from app.charting.kept import Kept
from app.charting.moment import NEAR, Moment
from app.charting.site_figures import SiteInTime

_READ_WITH_A_GAS = ("minute_vent_obs", "mean_airway_pressure_obs", "hold_passive")


MOST_WALKS = 64
"""How many courses are kept; a long one holds some hundred moments."""


def moments(facts: CourseFacts, site: SiteInTime) -> tuple[Moment, ...]:
    """Each row that counts, oldest first, as a moment; one pass over the rows not yet walked.

    `site` holds the unit's figures; each row takes those in force at its own moment. Rows among
    which is one that nobody has saved are walked beside what is kept.
    """
    rows, walk = facts.standing, _Walk(facts, site)
    is_saved = all(row.id for row in rows)
    kept = _walks.take(facts.course_id) if is_saved else None
    if kept is not None and kept.goes_on(walk, rows):
        walk = kept
    walk.on_to(rows)
    found = tuple(walk.moments)
    if is_saved:
        _walks.keep(facts.course_id, walk)
    return found


class _Walk:
    """The moments of a course so far, and what it walks beside."""

    def __init__(self, facts: CourseFacts, site: SiteInTime) -> None:
        self.moments: list[Moment] = []
        self._facts = facts
        self._site = site
        self._body = body_known(facts)
        self._rows: tuple[Assessment, ...] = ()
        self._in_force = Course(tubes=tubes_moved(facts.airways))
        self._seen: dict[str, Reading] = {}

    def goes_on(self, other: "_Walk", rows: Sequence[Assessment]) -> bool:
        """Whether nothing but rows behind those walked came since, none at the last one's moment.

        Rows are the very same objects as long as nobody touched them.
        """
        walked = self._rows
        if self._beside() != other._beside() or len(rows) < len(walked):
            return False
        if any(a is not b for a, b in zip(walked, rows, strict=False)):
            return False
        is_longer = walked and len(rows) > len(walked)
        return not is_longer or rows[len(walked)].observed_at > walked[-1].observed_at

    def _beside(self) -> tuple[object, ...]:
        facts = self._facts
        return (self._site, self._body, facts.age_y, facts.airways, facts.events)

    def on_to(self, rows: tuple[Assessment, ...]) -> None:
        """Walk the rows behind those walked."""
        for row, known in each_in_force(rows[len(self._rows) :], self._in_force):
            self.moments.append(self._moment(row, known))
        self._rows = rows

    def _moment(self, row: Assessment, known: InForce) -> Moment:
        facts, site = self._facts, self._site.at(row.observed_at)
        # A row that names its mode has looked at the machine, and says itself what holds.
        holds = known if row.mode_family else unless_standby(facts.events, row.observed_at, known)
        self._seen.update(_noted(row))
        airway = airway_at(facts.airways, row.observed_at)
        return Moment(
            row=row,
            family=holds.family,
            settings=holds.settings,
            near=_near(row, self._seen) if row.kind is Kind.GAS else {},
            body=self._body,
            age_y=facts.age_y,
            adult_age_y=site.adult_age_y,
            airway_category=airway.category if airway else "",
            barometric_mmhg=site.barometric_mmhg,
            ecmo=_membrane_lung(facts, row, holds, self._seen),
            oxygen_age=(
                row.observed_at - holds.oxygen_changed_at if holds.oxygen_changed_at else None
            ),
        )


_walks: Kept[_Walk] = Kept(MOST_WALKS)


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
