"""The ward with its app behind a real address, for a browser that does a round on it."""

import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import timedelta
from types import MappingProxyType

import uvicorn
from msgspec import Struct
from playwright.sync_api import Page

from app.actions.chart_assessment import chart_assessment
from app.charting.facts import Kind
from app.charting.typed_check import TypedCheck
from app.commands.server import server_config
from app.record.database import Database
from tests.clock import Clock
from tests.engines import Sqlite
from tests.site import PASSWORD, open_site
from tests.ward import Ward, open_ward

SETTINGS = {
    "fio2_set": "45",
    "peep_set": "12",
    "tidal_volume_set": "400",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "trigger_flow_set": "2",
}
MARKS = {"airway_depth_cm": "22", "airway_side": "right", "humidifier_temp_c": "37"}
NOTHING: Mapping[str, str] = MappingProxyType({})
LAST = {
    **SETTINGS,
    **MARKS,
    "heart_rate": "84",
    "spo2": "95",
    "etco2_mmhg": "40",
    "resp_rate_obs": "21",
    "tidal_volume_obs": "398",
    "minute_vent_obs": "8.6",
    "peak_inspiratory_pressure_obs": "27",
    "plateau_pressure_obs": "23",
    "hold_passive": "yes",
    "peep_total": "12",
}
"""Six settings and three marks, and nine measured values: the last round's check."""


class LiveWard(Struct, frozen=True):
    """Where it is served, and what is known of it."""

    origin: str
    ward: Ward
    clock: Clock
    database: Database

    def assess(self, bed: str = "L3", kind: str = "") -> str:
        """The address of a bed's check form."""
        return f"{self.origin}/courses/{self.ward.courses[bed]}/assess{kind}"

    def chart(self, typed: dict[str, str], *, hours_ago: float, family: str = "ac_vc") -> None:
        """A full check of L3, charted by Ash some hours ago; questions are answered with yes."""
        at = self.clock.now - timedelta(hours=hours_ago)
        check = TypedCheck(Kind.FULL, at, family, typed, source="test", accept_everything=True)
        with self.database.writing(self.clock, self.ward.staff["ash"]) as writing:
            chart_assessment(writing, self.ward.courses["L3"], check)


@contextmanager
def live_ward(
    sqlite: Sqlite,
    clock: Clock,
    *,
    identity_digits: int = 0,
    four_hours_ago: Mapping[str, str] = NOTHING,
) -> Iterator[LiveWard]:
    """Serve a copy of the ward until the block ends; with a check of L3 in it, if one is given."""

    def prepare(database: Database) -> Ward:
        ward = open_ward(database, clock)
        if four_hours_ago:
            LiveWard("", ward, clock, database).chart(dict(four_hours_ago), hours_ago=4)
        return ward

    name = f"live ward at {clock.now} with {sorted(four_hours_ago.items())}"
    with (
        sqlite.set_up(name, prepare) as (database, ward),
        served(database, clock, identity_digits) as origin,
    ):
        yield LiveWard(origin, ward, clock, database)


@contextmanager
def served(database: Database, clock: Clock, identity_digits: int) -> Iterator[str]:
    """The origin of the app on that record."""
    site = open_site(database, clock, identity_digits=identity_digits)
    server = uvicorn.Server(server_config(site, "127.0.0.1", 0))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive(), "the server did not start"
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join()


def sign_in(page: Page, live: LiveWard, name: str = "ash") -> None:
    """Through the door, as anybody does."""
    page.goto(f"{live.origin}/sign-in")
    page.fill("[name=sign_in_name]", name)
    page.fill("[name=password]", PASSWORD)
    with page.expect_navigation():
        page.click("form[action='/sign-in'] button[type=submit]")


class Keys:
    """A keyboard that counts, in the hands of somebody who touches nothing else."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.pressed = 0

    def __call__(self, text: str = "", key: str = "Enter") -> None:
        """Type a text and press one key after it; an empty key presses none."""
        for sign in text:
            self.page.keyboard.press(sign)
        if key:
            self.page.keyboard.press(key)
        self.pressed += len(text) + bool(key)

    @property
    def at(self) -> str:
        """The name of the field that has the focus."""
        return str(
            self.page.evaluate("document.activeElement.name || document.activeElement.tagName")
        )
