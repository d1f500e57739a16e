"""The moment as of which an address asks for a page, and the moments that a typed time may mean."""

from datetime import UTC, datetime

from app.rules.unit_clock import UnitClock
from app.web.errors import BadForm
from app.web.moments import MomentRefused, moment_in_form


def as_of_in(text: str, now: datetime) -> datetime | None:
    """The moment that an address names, ISO 8601 with its offset; None where it names none.

    Raises BadForm for nonsense and for what is still to come: the present must not be shown in
    place of a moment that somebody asked for.
    """
    if not text:
        return None
    try:
        named = datetime.fromisoformat(text.replace(" ", "+"))
        moment = named.astimezone(UTC) if named.tzinfo is not None else None
    except (ValueError, OverflowError):
        moment = None
    if moment is None:
        raise BadForm("the moment in this address is not one with its offset from UTC")
    if moment > now:
        raise BadForm("the moment in this address is still to come")
    return moment


def typed_then(text: str, clock: UnitClock, now: datetime) -> tuple[tuple[datetime, ...], str]:
    """The past moments that a wall time may mean, or what is wrong with it."""
    found, why = [], ""
    for which in ("first", "second"):
        try:
            found.append(moment_in_form(text, clock, now, which))
        except MomentRefused as refused:
            why = str(refused)
    passed = tuple(sorted({at for at in found if at <= now}))
    return passed, "" if passed else why or "This time is still to come."
