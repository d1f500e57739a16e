"""A student's draft, read again for whoever signs beside it, on the chart as it stands now."""

import hashlib
from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from app.charting.check import read_check
from app.charting.correcting import typed_again
from app.charting.cross_checks import Finding
from app.charting.facts import Assessment, CourseFacts
from app.charting.site_figures import ANYWHERE, SiteInTime
from app.charting.typed_check import NewReading, Objection, ReadCheck

_Where = tuple[str, str]


class DraftRead(Struct, frozen=True):
    """What is to be known before a draft becomes a fact."""

    still_open: tuple[Objection, ...]
    """What nobody has answered yet, or what nobody may: then the draft cannot be signed."""
    answered: tuple[Objection, ...]
    """What its author, or whoever is about to sign, has said yes to."""
    notes: tuple[Finding, ...]
    readings: tuple[NewReading, ...]

    @property
    def can_be_signed(self) -> bool:
        """Whether answers are all that is missing."""
        return not any(objection.kind == "refused" for objection in self.still_open)


def drafts_of(facts: CourseFacts) -> tuple[Assessment, ...]:
    """The rows that nobody has signed and nobody has struck, oldest observed first."""
    return tuple(row for row in facts.assessments if is_draft(row))


def is_draft(row: Assessment) -> bool:
    """Whether a row waits for a signature: nobody has signed it and nobody has struck it."""
    return not row.signed and not row.struck


def read_draft(
    facts: CourseFacts,
    row: Assessment,
    accepted: frozenset[str] = frozenset(),
    *,
    now: datetime,
    site: SiteInTime = ANYWHERE,
) -> DraftRead:
    """Hold the draft against the chart, as if it were typed now.

    What the author answered then stays answered, as long as it is asked in the same words; what
    others charted meanwhile may ask more. `accepted` are the keys that the signer answers with yes.
    """

    def again(given: frozenset[str]) -> ReadCheck:
        check = typed_again(row, given)
        return read_check(check, facts, now=now, site=site)

    kept: frozenset[str] = frozenset()
    asked: dict[_Where, Objection] = {}
    read = again(kept)
    # A value that is read only once its own question is answered can bring up another.
    while more := _answered_then(row, read.objections) - kept:
        asked |= _by_place(read)
        kept |= more
        read = again(kept)
    asked |= _by_place(read)
    read = again(kept | accepted)
    asked |= _by_place(read)
    still_open = {_where(each) for each in read.objections}
    return DraftRead(
        still_open=read.objections,
        answered=tuple(
            each
            for where, each in asked.items()
            if each.key in kept | accepted and where not in still_open
        ),
        notes=read.notes,
        readings=read.readings,
    )


def _where(objection: Objection) -> _Where:
    """Two fields may ask the same: "was 250, +68 %?" of a volume set and of one expired."""
    return objection.field, objection.key


def _by_place(read: ReadCheck) -> dict[_Where, Objection]:
    return {_where(each): each for each in (*read.objections, *read.answered) if each.key}


def _answered_then(row: Assessment, objections: Iterable[Objection]) -> frozenset[str]:
    """The keys of what stands beside a value as asked and answered."""
    told = {code: reading.question for code, reading in row.readings.items()}
    return frozenset(o.key for o in objections if o.key and o.sentence in told.get(o.field, ""))


def fingerprint(row: Assessment) -> str:
    """What a signer has seen: changes with every version of every value, and with the row."""
    versions = sorted(reading.id for reading in row.readings.values())
    seen = [row.id, row.kind.value, row.observed_at.isoformat(), row.mode_family, *versions]
    return hashlib.sha256("\n".join(seen).encode()).hexdigest()[:32]
