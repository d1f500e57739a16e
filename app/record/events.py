"""What happened to a patient as facts: newest versions, ends and details in place, strikes told."""

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import pairwise
from typing import Any

from sqlalchemy import Row
from sqlmodel import Session

from app.charting.event_facts import Event, EventDetail, PutRight
from app.record.tables import EventDetailRow, EventEndRow, EventRow
from app.record.versions import chains, of_course

Chain = tuple[Row[Any], ...]


def events(
    session: Session, course_id: str, since: datetime | None = None, until: str | None = None
) -> tuple[Event, ...]:
    """What happened, oldest first; struck ones are among them and say so.

    A state that has not ended is kept however old it is.
    """
    ends: dict[str, list[Chain]] = {}
    for chain in chains(of_course(session, EventEndRow, course_id, until)):
        ends.setdefault(chain[0].event_id, []).append(chain)
    said = _said(chains(of_course(session, EventDetailRow, course_id, until)))
    found = [
        _event(chain, ends.get(chain[0].id, []), said.get(chain[0].id, ()))
        for chain in chains(of_course(session, EventRow, course_id, until))
    ]
    shown = [e for e in found if since is None or e.ended_at is None or e.ended_at >= since]
    return tuple(sorted(shown, key=lambda event: (event.observed_at, event.id)))


def _said(versions: Iterable[Chain]) -> dict[str, tuple[EventDetail, ...]]:
    """What was said of each event, in the order of the times that it was said of.

    Another version of it only moves it in time, or takes out what was said with a struck end.
    """
    found: dict[str, tuple[EventDetail, ...]] = {}
    for chain in sorted(versions, key=lambda chain: (chain[-1].observed_at, chain[0].id)):
        first, row = chain[0], chain[-1]
        values = json.loads(row.details)
        if values:
            told = EventDetail(row.observed_at, first.author, values, first.id, row.id)
            found[row.event_id] = (*found.get(row.event_id, ()), told)
    return found


def _event(versions: Chain, ends: Sequence[Chain], said: tuple[EventDetail, ...]) -> Event:
    """Key and time of writing are the first version's; a strike keeps the author of what it says.

    Of several ends all but one at most are struck: a state ends once.
    """
    first, last = versions[0], versions[-1]
    told = versions[-2] if last.struck else last
    standing = [chain for chain in ends if not chain[-1].struck]
    begun, end = (standing[-1][0], standing[-1][-1]) if standing else (None, None)
    return Event(
        id=first.id,
        kind=last.kind,
        observed_at=last.observed_at,
        ended_at=end.ended_at if end is not None else None,
        words=last.words,
        author=told.author,
        said=said,
        end_words=end.words if end is not None else "",
        put_right=_put_right(versions, ends),
        struck=last.struck or "",
        struck_by=last.author if last.struck else "",
        struck_at=last.recorded_at if last.struck else None,
        author_id=first.author_id,
        version_id=last.id,
        end_id=begun.id if begun is not None else "",
        end_version_id=end.id if end is not None else "",
    )


def _put_right(versions: Chain, ends: Sequence[Chain]) -> tuple[PutRight, ...]:
    found = [*_corrections(versions, "observed_at")]
    for chain in ends:
        found += _corrections(chain, "ended_at")
    return tuple(sorted(found, key=lambda each: each.written_at))


def _corrections(versions: Chain, at: str) -> Iterator[PutRight]:
    """Each version that was corrected, or struck where it is an end.

    A version that only says more (how a tube came out) corrects nothing; that the event itself is
    struck is told by the event.
    """
    of_end = at == "ended_at"
    for before, after in pairwise(versions):
        why = after.why or (after.struck if of_end else "")
        if why:
            yield PutRight(
                at=getattr(before, at),
                words=before.words,
                author=before.author,
                why=why,
                by=after.author,
                written_at=after.recorded_at,
                struck=bool(after.struck),
                of_end=of_end,
            )
