"""What is done with an airway, and what the airway is after it: every row says the whole of it.

The acts are common practice. A row made by moving or re-securing describes the same tube as the row
before it; one made by placing, exchanging or a tracheostomy describes another one.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from decimal import Decimal
from types import MappingProxyType

from msgspec import Struct

from app.charting.facts import Airway, CourseFacts
from app.charting.mode_families import family_of

PLACED, REPOSITIONED, RESECURED = "placed", "repositioned", "re-secured"
EXCHANGED, TRACHEOSTOMY, REMOVED = "exchanged", "tracheostomy", "removed"
SPARES = "spares"

PLANNED_WORD, UNPLANNED_WORD = "planned", "unplanned"
"""What the words of a removal begin with."""

TUBES = frozenset({"ett_oral", "ett_nasal", "trach", "supraglottic"})
"""What has to be removed or exchanged before something else can be placed."""

NEW_TUBE = frozenset({PLACED, EXCHANGED, TRACHEOSTOMY, REMOVED})
"""Acts after which trends of the tube begin anew."""


class AirwayAct(Struct, frozen=True):
    """One thing that can be done: its word, and which fields its form asks for."""

    code: str
    label: str
    asks: tuple[str, ...]
    needs_tube: bool = False
    """Whether there has to be a tube for it."""


_TUBE = ("airway_category", "airway_size_mm", "airway_depth_cm", "airway_depth_reference")
_HOW = ("confirmed_by", "confirmed_co2", "confirmed_ears", "confirmed_image")
_STOMA = ("inner_cannula", "spare_same", "spare_smaller", "may_change")

_ACTS = (
    AirwayAct(PLACED, "Placed", (*_TUBE, "airway_side", "difficult_airway", *_HOW)),
    AirwayAct(
        REPOSITIONED,
        "Moved to another depth",
        ("airway_depth_cm", "airway_depth_reference", "airway_side", "why", *_HOW),
        needs_tube=True,
    ),
    AirwayAct(RESECURED, "Secured anew", ("airway_side", "airway_words"), needs_tube=True),
    AirwayAct(
        EXCHANGED,
        "Exchanged",
        (*_TUBE, "airway_side", "tube_type", "why", "difficult_airway", *_HOW),
        needs_tube=True,
    ),
    AirwayAct(SPARES, "Inner cannula and spares", (*_STOMA, "airway_words"), needs_tube=True),
    AirwayAct(
        TRACHEOSTOMY,
        "Tracheostomy made",
        ("stoma_on", "airway_size_mm", "tube_type", *_STOMA, "difficult_airway", *_HOW),
    ),
)
AIRWAY_ACTS: Mapping[str, AirwayAct] = MappingProxyType({act.code: act for act in _ACTS})
"""Code to act, as the airway page offers them. A removal belongs to extubation and its like."""

ACT_WORDS: Mapping[str, str] = MappingProxyType(
    {**{act.code: act.label for act in _ACTS}, REMOVED: "Removed"}
)


def has_tube(airway: Airway | None) -> bool:
    """Whether there is something that has to come out before another can go in."""
    return airway is not None and airway.act != REMOVED and airway.category in TUBES


class TubeMoved(Struct, frozen=True):
    """A tube that came out, or went in where there was none."""

    at: datetime
    went_in: bool

    def ends(self, family: str) -> bool:
        """Whether support of this kind cannot go on: through a tube that is out, or beside one.

        A T-piece is on the tube's end, so oxygen without a machine goes on.
        """
        known = family_of(family)
        if self.went_in:
            return not known.invasive and family not in ("", "o2_mask")
        return known.invasive


def tubes_moved(airways: Iterable[Airway]) -> tuple[TubeMoved, ...]:
    """Each removal of a tube, and each tube placed after one, oldest first.

    The first tube of a course is none of these: what was charted before it stands.
    """
    found: list[TubeMoved] = []
    had_one = False
    for airway in airways:
        has_one = has_tube(airway)
        if had_one and not has_one:
            found.append(TubeMoved(airway.observed_at, went_in=False))
        elif found and has_one and not had_one:
            found.append(TubeMoved(airway.observed_at, went_in=True))
        had_one = has_one
    return tuple(found)


def tube_since(airways: Sequence[Airway], at: datetime) -> datetime | None:
    """Since when the tube of a moment is the one in place; None before the first airway."""
    new = [row for row in airways if row.observed_at <= at and row.act in NEW_TUBE]
    earlier = new or [row for row in airways if row.observed_at <= at][:1]
    return earlier[-1].observed_at if earlier else None


def depth_now(facts: CourseFacts, airway: Airway | None, at: datetime) -> Decimal | None:
    """The depth known last by then: charted since the airway's row, or else as that row says."""
    since = airway.observed_at if airway is not None else facts.support_started_at
    for row in reversed(facts.standing):
        reading = row.readings.get("airway_depth_cm")
        if reading is not None and reading.number is not None and since <= row.observed_at <= at:
            return reading.number
    return airway.depth_cm if airway is not None else None


def reference_now(facts: CourseFacts, airway: Airway | None) -> str:
    """The mark at which the depth of the tube in place is read: said last, or at its placing."""
    reading = facts.latest_readings().get("airway_depth_reference")
    since = airway.observed_at if airway is not None else facts.support_started_at
    if reading is not None and reading.word and reading.observed_at >= since:
        return reading.word
    return airway.depth_reference if airway is not None else ""


_MARK = frozenset({"airway_depth_cm", "airway_depth_reference", "airway_side"})
_OF_ONE_TUBE = _MARK | {
    "cuff_state",
    "cuff_pressure_cmh2o",
    "cuff_leak_ml",
    "leak_audible",
    "speaking_valve",
    "tip_above_carina_cm",
}


def is_outlived(airways: Sequence[Airway], code: str, observed_at: datetime) -> bool:
    """Whether a reading is of a tube before the one in place, or of a mark before it was moved.

    The first tube of a course outlives nothing: what was charted before its row stands.
    """
    if code not in _OF_ONE_TUBE:
        return False
    acts = NEW_TUBE | {REPOSITIONED} if code in _MARK else NEW_TUBE
    first = airways[:1]
    ended = [row for row in airways if row.act in acts and (row.act != PLACED or row not in first)]
    return bool(ended) and observed_at < ended[-1].observed_at


def is_fresh(airways: Sequence[Airway], at: datetime, today: date, days: int) -> bool:
    """Whether the airway is a tracheostomy made within so many days (the unit's policy).

    Counted from the day that was written down to `today`, the day of `at` in the unit's zone, else
    from the first row of a tracheostomy.
    """
    now = next((row for row in reversed(airways) if row.observed_at <= at), None)
    if now is None or now.category != "trach" or now.act == REMOVED:
        return False
    if now.stoma_on is not None:
        return (today - now.stoma_on).days < days
    first = next(row for row in airways if row.category == "trach")
    return at - first.observed_at < timedelta(days=days)
