"""Trends of a stiff lung in the sample night, built by the page's own code; and of nothing yet."""

from msgspec.structs import replace

from app.charting.event_facts import Event
from app.charting.facts import Assessment
from app.pages.known import known
from app.pages.trends import trends_page
from app.pages.trends_page import TrendsPage
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies
from tests.browser.sample_frame import frame
from tests.charting.rows import course, later, reading
from tests.rules.watch.scenes import POLICY, check

HOURS = (("22", "93"), ("26", "92"), (None, "90"), ("30", "88"), ("27", "91"))


def trends() -> TrendsPage:
    """Six checks: one without a plateau, one corrected, one struck; and the time lain prone."""
    rows = [
        check(4 * n, plateau_pressure_obs=plateau, spo2=spo2, peep_set=str(8 + 2 * (n > 2)))
        for n, (plateau, spo2) in enumerate(HOURS)
    ]
    rows[1] = _corrected(rows[1])
    rows.append(replace(check(13, plateau_pressure_obs="20", spo2="97"), struck="another bed"))
    prone = Event("e1", "prone", later(hours=2), later(hours=14), "Turned prone", "ash")
    return page(rows, "24h", prone)


def _corrected(row: Assessment) -> Assessment:
    """Its plateau was typed as 36 and set right."""
    old = reading("plateau_pressure_obs", "36", row.observed_at)
    new = replace(row.readings["plateau_pressure_obs"], corrected_from=old)
    return replace(row, readings={**row.readings, "plateau_pressure_obs": new})


def no_trends() -> TrendsPage:
    """A course without a check."""
    return page([], "6h")


def page(rows: list[Assessment], span: str, *events: Event) -> TrendsPage:
    facts = course(*rows, events=events)
    now = later(hours=17)
    return trends_page(
        frame("Trends"),
        known(facts, POLICY, UnitClock("America/New_York"), now),
        Policies(POLICY),
        span,
    )
