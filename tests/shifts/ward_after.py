"""The ward as a journey left it: walked once on each engine, cloned for the tests behind it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime

from app.record.database import Database
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.site import open_site
from tests.ward import IDENTIFIERS, Ward, open_ward

Journey = Callable[[Browser, Ward, Clock], None]


@contextmanager
def ward_after(
    engine: Sqlite | Postgresql, clock: Clock, journey: Journey | None = None
) -> Iterator[tuple[Database, Ward]]:
    """A record with the ward in it, after that journey if there is one; the clock goes along.

    A journey is known by its name and module and by when it begins: it depends on nothing else.
    """

    def prepare(database: Database) -> tuple[Ward, datetime]:
        then = Clock(clock.now)
        ward = open_ward(database, then)
        if journey is not None:
            with browsing(open_site(database, then), identifiers=IDENTIFIERS) as browser:
                journey(browser, ward, then)
        return ward, then.now

    walked = f"{journey.__module__}.{journey.__qualname__}" if journey else "nothing"
    with engine.set_up(f"ward after {walked} from {clock.now}", prepare) as (database, made):
        ward, clock.now = made
        yield database, ward
