"""Sign a person in: check the password, count failures, open a session that is always a new one."""

import secrets
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from sqlmodel import Session

from app.actions.passwords import Passwords
from app.actions.throttling import NAME_FROM_ADDRESS, Bound, bounds_of, failures_left
from app.record.database import Database
from app.record.people import Person, as_sign_in_name, find_by_sign_in_name, password_hash
from app.record.sessions import SignedIn, close_ended_sessions, close_session, open_session
from app.record.tables import StaffStandingRow
from app.record.throttles import Throttle, clear_throttle, find_throttle, store_throttle
from app.record.writing import Clock, Writing


@dataclass(frozen=True, slots=True)
class Attempt:
    """What somebody typed, and from where."""

    sign_in_name: str
    password: str = field(repr=False)
    address: str = ""
    earlier_token: str = field(default="", repr=False)
    """Token of the session that this browser had until now; it ends."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A new session; the token goes to the browser and is kept nowhere else."""

    token: str = field(repr=False)
    person: Person


class SignInRefused(Exception):  # noqa: N818 - an answer to the person, not a mishap
    """Nobody was signed in. Never says whether the name or the password was wrong."""


class MustWait(SignInRefused):
    """Too many failures: the password was not even looked at."""

    def __init__(self, wait: timedelta) -> None:
        super().__init__(f"wait {wait}")
        self.wait = wait


def sign_in(
    database: Database, clock: Clock, passwords: Passwords, attempt: Attempt, lifetime: timedelta
) -> Opened:
    """Open a session of at most `lifetime` for whoever the name and password belong to.

    Takes the store and not an open write, as other actions do: hashing lasts a tenth of a second,
    and every other writer would wait for it. Raises MustWait or SignInRefused; both count.
    """
    bounds = bounds_of(as_sign_in_name(attempt.sign_in_name), attempt.address)
    with database.reading() as session:
        _refuse_early(session, bounds, clock())
        person = find_by_sign_in_name(session, attempt.sign_in_name)
        # Asked for nobody too: an unknown name must cost the same look-ups as a known one.
        kept_hash = password_hash(session, person.id if person else "")
    is_right = passwords.matches(kept_hash, attempt.password)
    with database.writing(clock, person.id if person else None, workstation=attempt.address) as w:
        if person and is_right:
            new_hash = passwords.hash(attempt.password) if passwords.is_outdated(kept_hash) else ""
            return _open(w, person, attempt, lifetime, new_hash)
        _count_failure(w, bounds, person)
    raise SignInRefused


def _refuse_early(session: Session, bounds: dict[str, Bound], now: datetime) -> None:
    ends = (find_throttle(session, key).until for key in bounds)
    wait = max((end - now for end in ends if end is not None), default=timedelta())
    if wait > timedelta():
        raise MustWait(wait)


def _count_failure(writing: Writing, bounds: dict[str, Bound], person: Person | None) -> None:
    """One more failure under each key; the audit names the account only if there is one."""
    now = writing.recorded_at
    for key, bound in bounds.items():
        before = find_throttle(writing.session, key)
        failures = failures_left(before.failures, before.until, now) + 1
        store_throttle(writing.session, key, Throttle(failures, now + bound.wait(failures)))
    writing.audit("sign_in_failed", staff_id=person.id if person else None)


def _open(
    writing: Writing, person: Person, attempt: Attempt, lifetime: timedelta, new_hash: str
) -> Opened:
    token, now = secrets.token_urlsafe(32), writing.recorded_at
    if attempt.earlier_token:
        close_session(writing.session, attempt.earlier_token)
    close_ended_sessions(writing.session, now)
    open_session(
        writing.session,
        token,
        SignedIn(
            staff_id=person.id,
            csrf_secret=secrets.token_urlsafe(32),
            created_at=now,
            last_seen_at=now,
            ends_at=now + lifetime,
            workstation=attempt.address,
        ),
    )
    _forget_failures(writing.session, person, attempt)
    if new_hash:
        _keep_hash(writing, person, new_hash)
    writing.audit("sign_in", detail={"password_rehashed": True} if new_hash else None)
    return Opened(token, person)


def _forget_failures(session: Session, person: Person, attempt: Attempt) -> None:
    """A right password clears the name at this address only: elsewhere somebody may still guess."""
    for key, bound in bounds_of(person.sign_in_name, attempt.address).items():
        if bound is NAME_FROM_ADDRESS:
            clear_throttle(session, key)


def _keep_hash(writing: Writing, person: Person, new_hash: str) -> None:
    """The same standing with the same password, hashed at today's cost."""
    writing.add(
        StaffStandingRow(
            staff_id=person.id,
            role=person.role,
            password_hash=new_hash,
            active=person.active,
            since=writing.recorded_at,
        )
    )
