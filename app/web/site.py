"""What every request needs of this installation, put together once in `main`."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property
from typing import Annotated

import anyio
from fastapi import Depends
from msgspec import Struct
from starlette.requests import HTTPConnection

from app.actions.passwords import Passwords
from app.pages.plain_pages import DemoPerson
from app.pages.site_words import SiteWords
from app.pages.stories_page import DemoStory
from app.record.database import Database
from app.record.writing import Clock
from app.settings import Settings
from app.web.cookies import Cookies
from app.web.kept import Kept
from app.web.kept_beds import KeptBeds
from app.web.templating import Pages

HASHES_AT_ONCE = 2
"""Each takes 64 MiB and four threads for a moment; a shift that signs in at once waits in line."""

MOST_WAITING = 200
"""Sign-ins in line: some twenty seconds' worth; a longer queue is no shift but a flood."""

WAIT_WHEN_BUSY = timedelta(seconds=10)

NO_TROUBLE = ""


def words_of(settings: Settings) -> SiteWords:
    """How an installation writes oxygen and gases, and what it calls things (decision 34)."""
    return SiteWords(
        oxygen_as_fraction=settings.oxygen_as_fraction,
        gas_in_kpa=settings.gas_in_kpa,
        called=settings.words,
    )


class RecordHealth(Struct):
    """Whether the last write was refused, for the line that then stands over every page."""

    trouble: str = NO_TROUBLE

    def refused(self, why: str) -> None:
        """A write could not be kept."""
        self.trouble = f"Nothing can be saved now: {why}. Reading goes on."

    def kept(self) -> None:
        """A write was kept."""
        self.trouble = NO_TROUBLE


class FirstRun(Struct):
    """Whether a unit and a person were found, so that nobody has to ask again."""

    over: bool = False


@dataclass(frozen=True)
class Site:
    """Settings, record, clock and pages of one running app."""

    settings: Settings
    secret: str = field(repr=False)
    database: Database
    clock: Clock
    cookies: Cookies
    passwords: Passwords
    pages: Pages = field(default_factory=Pages)
    health: RecordHealth = field(default_factory=RecordHealth)
    first_run: FirstRun = field(default_factory=FirstRun)
    kept: Kept = field(default_factory=Kept)
    beds: KeptBeds = field(default_factory=KeptBeds)
    hashing: anyio.CapacityLimiter = field(
        default_factory=lambda: anyio.CapacityLimiter(HASHES_AT_ONCE)
    )
    demo_people: tuple[DemoPerson, ...] = ()
    demo_stories: tuple[DemoStory, ...] = ()
    seen: dict[str, datetime] = field(default_factory=dict)
    """When a session was last used, by its token's hash, while the record could not keep it."""

    @cached_property
    def words(self) -> SiteWords:
        """How this site writes oxygen and gases, and what it calls things (decision 34)."""
        return words_of(self.settings)

    @property
    def stories(self) -> tuple[DemoStory, ...]:
        """What the demo tells; nothing anywhere else."""
        return self.demo_stories if self.settings.demo else ()

    def last_seen(self, fingerprint: str, kept: datetime) -> datetime:
        """The later of what the record kept and what it could not keep."""
        return max(kept, self.seen.get(fingerprint, kept))

    @property
    def idle(self) -> timedelta:
        """How long a session lives without a touch."""
        return timedelta(minutes=self.settings.idle_minutes)

    @property
    def longest(self) -> timedelta:
        """How long a session lives in any case."""
        return timedelta(hours=self.settings.session_hours)


async def site_of(connection: HTTPConnection) -> Site:
    """The site that answers this request."""
    site: Site = connection.app.state.site
    return site


SiteDep = Annotated[Site, Depends(site_of)]
