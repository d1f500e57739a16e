"""Trends of a stiff lung in the sample night, built by the page's own code; and of nothing yet."""

from app.pages.bed import known
from app.pages.trends import trends_page
from app.pages.trends_page import TrendsPage
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies
from tests.browser.sample_frame import frame
from tests.charting.rows import course, later
from tests.rules.watch.scenes import POLICY, check

HOURS = (("22", "93"), ("26", "92"), (None, "90"), ("30", "88"), ("27", "91"))


def trends() -> TrendsPage:
    """Five checks, one of them without a plateau."""
    rows = [
        check(4 * n, plateau_pressure_obs=plateau, spo2=spo2, peep_set=str(8 + 2 * (n > 2)))
        for n, (plateau, spo2) in enumerate(HOURS)
    ]
    return page(rows, "24h")


def no_trends() -> TrendsPage:
    """A course without a check."""
    return page([], "6h")


def page(rows: list, span: str) -> TrendsPage:
    facts = course(*rows)
    now = later(hours=17)
    return trends_page(
        frame("Trends"),
        known(facts, POLICY, UnitClock("America/New_York"), now),
        Policies(POLICY),
        span,
    )
