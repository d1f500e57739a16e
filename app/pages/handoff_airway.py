"""The airway on the handoff page: the tube in place, and what was read of it and around it."""

from collections.abc import Iterator

from app.charting.airways import REMOVED, has_tube, is_outlived, reference_now
from app.charting.facts import Airway, Kind, Reading
from app.charting.field import Group, Use
from app.charting.fields import FIELDS
from app.charting.reasons import not_done
from app.charting.uses import use_of
from app.pages import airway_words
from app.pages.handoff_page import Section, Seen, Told
from app.pages.known import Known
from app.pages.number_links import number_href
from app.pages.own_range_words import own_range_lines
from app.pages.target_words import ordered_words
from app.pages.times import clock_time
from app.pages.treatment_words import treatment_words
from app.pages.values import reading_text

AIRWAY_FIELDS = (
    "airway_depth_cm",
    "airway_side",
    "cuff_state",
    "cuff_pressure_cmh2o",
    "leak_audible",
    "speaking_valve",
    "securement",
    "airway_skin",
    "breath_sounds",
    "secretions_amount",
    "secretions_colour",
    "secretions_consistency",
    "cough",
    "rass",
    "rass_target",
    "nmb",
    "synchrony",
    "position",
    "head_of_bed_deg",
    "humidifier",
)


def airway_section(course: Known) -> Section:
    """What is in place, what is ordered for it, and what was last read of it, by its times."""
    latest = course.facts.latest_readings()
    placed = course.facts.airways[-1] if course.facts.airways else None
    lines = list(_tube(placed, course)) if placed else []
    ordered = ordered_words(course.facts.targets)
    lines += [f"Ordered: {ordered}"] if ordered else []
    own = own_range_lines(course.facts, course.now, course.clock, course.words)
    lines += [f"This patient's own range: {line}" for line in own]
    lines += treatment_words(course.facts, course.now, course.clock)
    by_time: dict[str, list[Told]] = {}
    for reading in (latest[code] for code in AIRWAY_FIELDS if _is_of(code, placed, course)):
        by_time.setdefault(_at(reading, course), []).append(_told(reading, course))
    seen = tuple(Seen(at, tuple(told)) for at, told in by_time.items())
    return Section("", "", lines=tuple(lines), seen=seen, empty_words="No airway charted.")


def _is_of(code: str, placed: Airway | None, course: Known) -> bool:
    """Whether it was charted and says something of the airway in place: a tube that is out has no
    depth and no cuff, and those of the tube before are not those of the next."""
    reading = course.facts.latest_readings().get(code)
    if reading is None or is_outlived(course.facts.airways, code, reading.observed_at):
        return False
    category = placed.category if placed else ""
    return FIELDS[code].group is not Group.AIRWAY or (
        use_of("other", code, Kind.FULL, category) is not Use.HIDDEN
    )


def _tube(airway: Airway, course: Known) -> Iterator[str]:
    """The airway in place, with where it was placed until somebody has read its mark since."""
    read = _is_of("airway_depth_cm", airway, course)
    yield ", ".join(filter(None, (_placed(airway), "" if read else airway_words.depth(airway))))
    if airway.category == "trach" and airway.act != REMOVED:
        told = "; ".join(airway_words.stoma(airway))
        yield from filter(None, (f"{told[:1].upper()}{told[1:]}",))


def _placed(airway: Airway) -> str:
    if airway.act == REMOVED:
        through = FIELDS["airway_category"].label_of(airway.category)
        after = f", now {through.lower()}" if airway.category != "none" else ""
        return f"The tube was removed{f' ({airway.words})' if airway.words else ''}{after}"
    label = FIELDS["airway_category"].label_of(airway.category)
    if airway.size_mm is not None:
        return f"{label}, {airway.size_mm} mm inside"
    return f"{label}, size not charted" if has_tube(airway) else label


def _told(reading: Reading, course: Known) -> Told:
    field = course.words.fields[reading.field]
    href = number_href(course.facts.course_id, field.code, reading.observed_at)
    if not reading.has_value:
        return Told(not_done(field.name, reading.reason), href)
    unit = field.unit if field.unit == "°" else f" {field.unit}"
    mark = _mark(course) if field.code == "airway_depth_cm" else ""
    return Told(f"{field.name} {reading_text(field, reading)}{unit}".rstrip() + mark, href)


def _mark(course: Known) -> str:
    """At what the depth is read: two depths at different marks are not comparable."""
    airway = course.facts.airways[-1] if course.facts.airways else None
    return airway_words.at_mark(reference_now(course.facts, airway))


def _at(reading: Reading, course: Known) -> str:
    return clock_time(reading.observed_at, course.now, course.clock)
