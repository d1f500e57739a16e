"""Numbers, opened: one over its limit, one that cannot be known, a field, a weight without height.

They are built by the page's own builder from two invented checks, so that what a browser looks at
is what the site writes.
"""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from msgspec.structs import replace

from app.charting.facts import (
    Assessment,
    BodySize,
    CourseFacts,
    Identity,
    Kind,
    Mark,
    Reading,
    State,
    Targets,
)
from app.pages.explained import explained_page, label_of
from app.pages.explained_page import ExplainedPage
from app.pages.known import known
from app.rules.policy import starting_policy
from app.rules.unit_clock import UnitClock
from tests.browser.sample_frame import frame

NOW = datetime(2026, 11, 26, 7, 5, tzinfo=UTC)
FIRST, SECOND = NOW - timedelta(hours=5), NOW - timedelta(minutes=40)
NUMBERS = {
    "peep_set": "12",
    "tidal_volume_set": "420",
    "flow_rate_set": "60",
    "tidal_volume_obs": "420",
    "resp_rate_obs": "22",
    "peak_inspiratory_pressure_obs": "36",
    "plateau_pressure_obs": "29.5",
    "peep_total": "13",
    "spo2": "91",
}
WORDS = {"hold_passive": "yes", "flow_pattern": "constant"}


def reading(field: str, at: datetime, text: str) -> Reading:
    is_number = field in NUMBERS
    return Reading(
        id=f"{field}-{at:%H}",
        field=field,
        observed_at=at,
        state=State.MEASURED,
        author="Birch",
        recorded_at=at + timedelta(minutes=4),
        number=Decimal(text) if is_number else None,
        word="" if is_number else text,
        raw=text,
    )


def check(at: datetime, *without: str) -> Assessment:
    readings = {
        field: reading(field, at, text)
        for field, text in {**NUMBERS, **WORDS}.items()
        if field not in without
    }
    for field in without:
        readings[field] = Reading(
            f"{field}-none", field, at, State.NOT_MEASURED, "Birch", at, reason="effort"
        )
    return Assessment(f"row-{at:%H}", Kind.FULL, at, at, "Birch", "ac_vc", readings)


def corrected(row: Assessment) -> Assessment:
    """The same row with a plateau that was asked about, then corrected, with a long reason."""
    was = row.readings["plateau_pressure_obs"]
    right = replace(
        was,
        number=Decimal("29.5"),
        author="Ash",
        marks=(Mark.ASKED,),
        question="Pplat 29.5 cmH2O: was 24, +5.5?",
        corrected_from=replace(was, number=Decimal("92.5"), raw="92.5"),
        why="Typed the digits the wrong way round while the patient was being turned",
    )
    return replace(row, readings={**row.readings, "plateau_pressure_obs": right})


def course(*rows: Assessment, height: str = "168") -> CourseFacts:
    size = Decimal(height) if height else None
    body = BodySize(FIRST, size, "reported" if height else "", "F", None, "Ash", "sister")
    return CourseFacts(
        course_id="5",
        unit_id="larch",
        identity=Identity("5", "P-05", "··4471", None, 58),
        support_started_at=NOW - timedelta(days=5),
        body_sizes=(body,),
        assessments=rows,
        targets=Targets(Decimal(88), Decimal(95), ordered_by="Dr Oak", ordered_at=FIRST),
    )


def opened(key: str, facts: CourseFacts) -> ExplainedPage:
    policy, clock = starting_policy(), UnitClock("America/New_York")
    return explained_page(frame(label_of(key)), known(facts, policy, clock, NOW), key)


def number() -> ExplainedPage:
    return opened("driving_pressure", course(check(FIRST), corrected(check(SECOND))))


def number_missing() -> ExplainedPage:
    holds = ("plateau_pressure_obs", "peep_total", "hold_passive")
    return opened("compliance_static", course(check(FIRST, *holds)))


def field() -> ExplainedPage:
    return opened("plateau_pressure_obs", course(check(FIRST), corrected(check(SECOND))))


def weight_missing() -> ExplainedPage:
    return opened("pbw", course(check(FIRST), height=""))
