"""One request by somebody who is signed in: who, where, when, and their way to the record."""

import hashlib
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

import structlog
from sqlmodel import Session

from app.actions.permissions import role_words
from app.record.errors import NotWritable
from app.record.people import Person, find_person
from app.record.sessions import find_session, touch_session
from app.record.units import Unit, list_units
from app.record.writing import Writing
from app.rules.unit_clock import UnitClock
from app.web.errors import NotSetUp
from app.web.kept import Memory
from app.web.site import Site
from app.web.unit_clocks import clock_of_site

TOUCHED_EVERY = timedelta(minutes=1)
"""A click is noted at most this often: one write per person and minute, not per click."""

log = structlog.get_logger("leeboard.visits")


@dataclass(frozen=True, slots=True)
class Visit:
    """Who asks, as checked for this request, and the only door from a route to the record.

    `now` is read once: everything on a page is judged at the same moment.
    """

    site: Site = field(repr=False)
    person: Person
    units: tuple[Unit, ...]
    now: datetime
    last_seen_at: datetime
    ends_at: datetime
    token: str = field(repr=False)
    form_secret: str = field(repr=False)
    workstation: str = ""

    @property
    def unit(self) -> Unit:
        """The unit that this site serves. Raises NotSetUp before any was set up."""
        if not self.units:
            raise NotSetUp
        return self.units[0]

    @property
    def role_name(self) -> str:
        """What this site calls the person's role."""
        role = self.person.role
        return self.site.words.name(role.upper(), role_words(role))

    @property
    def clock(self) -> UnitClock:
        """The unit's clock; UTC before any unit was set up."""
        return clock_of_site(self.units)

    def locks_at(self, *, touched: bool) -> datetime:
        """When the session ends unless somebody does something; `touched` if this request did.

        A touch that comes too soon after the last is not noted, and so moves nothing.
        """
        is_noted = touched and self.now - self.last_seen_at >= TOUCHED_EVERY
        since = self.now if is_noted else self.last_seen_at
        return min(since + self.site.idle, self.ends_at)

    def reading(self) -> AbstractContextManager[Session]:
        """One unchanging view of the record. Open and close it within the route's own body.

        A session that a dependency held open would keep its connection while it waits for a
        thread; with as many requests as threads each would wait for the other.
        """
        return self.site.database.reading()

    @contextmanager
    def writing(self) -> Iterator[Writing]:
        """One write by this person, kept when the block ends without an exception."""
        zone = self.units[0].zone if self.units else None
        with self.site.database.writing(
            self.site.clock, self.person.id, zone=zone, workstation=self.workstation
        ) as writing:
            yield writing
        self.site.health.kept()

    @contextmanager
    def working(self) -> Iterator[Session]:
        """A transaction for rows that come and go, such as a draft; nothing of it is evidence."""
        with self.site.database.working() as session:
            yield session
        self.site.health.kept()


def look_up(site: Site, token: str, workstation: str, memory: Memory) -> Visit | None:
    """The visit behind a token; None when the session has ended or the person may not sign in.

    Whoever was found is kept in the memory until something is written.
    """
    now = site.clock()
    with site.database.reading() as session:
        signed_in = find_session(session, token, now)
        if signed_in is None:
            return None
        visit = Visit(
            site=site,
            person=find_person(session, signed_in.staff_id),
            units=list_units(session),
            now=now,
            last_seen_at=signed_in.last_seen_at,
            ends_at=signed_in.ends_at,
            token=token,
            form_secret=signed_in.csrf_secret,
            workstation=workstation,
        )
    memory[_key(token, workstation)] = visit
    return _at(visit, now)


def look_up_again(site: Site, token: str, workstation: str, memory: Memory) -> Visit | None:
    """The same for a token that was looked up since the last write; None where it has to be."""
    visit: Visit | None = memory.get(_key(token, workstation))
    return _at(visit, site.clock()) if visit is not None else None


def _key(token: str, workstation: str) -> str:
    return f"visit {token} {workstation}"


def _at(visit: Visit, now: datetime) -> Visit | None:
    """The visit at this moment; None when the session has run out or the person may not sign in."""
    last_seen_at = visit.last_seen_at
    if visit.site.seen:
        last_seen_at = visit.site.last_seen(_fingerprint(visit.token), last_seen_at)
    idle = now - last_seen_at >= visit.site.idle
    if idle or now >= visit.ends_at or not visit.person.active:
        return None
    return replace(visit, now=now, last_seen_at=last_seen_at)


def touch(visit: Visit) -> None:
    """Note that the person did something, unless that was noted within the last minute.

    When the record cannot be written the moment is kept in this process: whoever reads on while
    nothing can be saved must not be signed out for it.
    """
    if visit.now - visit.last_seen_at < TOUCHED_EVERY:
        return
    try:
        with visit.site.database.working() as session:
            touch_session(session, visit.token, visit.now)
    except NotWritable as error:
        visit.site.seen[_fingerprint(visit.token)] = visit.now
        visit.site.health.refused(error.why)
        log.warning("touch_not_kept", why=error.why)
    else:
        visit.site.seen.pop(_fingerprint(visit.token), None)
        visit.site.health.kept()


def _fingerprint(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
