"""Each input of a number as a line: its value, how it came to be, when, by whom, and its marks."""

from collections.abc import Callable, Iterator
from datetime import datetime
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from app.charting.digits import quoted
from app.charting.facts import BodySize, Mark, Reading, State
from app.charting.field import Field, Manner
from app.charting.fields import FIELDS
from app.charting.shown import shown
from app.charting.terms import Origin, WorkedOut
from app.charting.unit_words import spelled
from app.pages.explained_page import InputLine
from app.pages.grid import LATE_AFTER
from app.pages.known import Known
from app.pages.number_links import opening
from app.pages.shown import Drawn, Shown
from app.pages.times import clock_time, when_in
from app.pages.values import of_index, of_reading, reading_text
from app.pages.what_it_needs import INDEX_BEHIND
from app.physiology.catalogue import CATALOGUE
from app.physiology.vocabulary import TERMS

STATES = {
    State.MEASURED: "measured",
    State.CONFIRMED: "confirmed: looked at, unchanged",
    State.CHANGED: "changed",
    State.NOT_MEASURED: "not measured",
}


class Inputs(Struct, frozen=True):
    """Writes the inputs of the numbers of one row, which is of `at`; `row_href` leads to an index
    of that row."""

    course: Known
    row_href: Callable[[str], str]
    at: datetime | None = None

    def line(self, name: str, origin: Origin) -> InputLine:
        """The line of one input, whatever it came from."""
        if isinstance(origin, Reading):
            return self.reading(origin)
        if isinstance(origin, BodySize):
            return self._body(name, origin)
        if isinstance(origin, WorkedOut):
            return self.worked(INDEX_BEHIND[name], origin)
        return InputLine(Shown(TERMS[name].label, origin.words, Drawn.STATED), self._whence(name))

    def _whence(self, name: str) -> str:
        """What the site's figure was set by; anything else that was told is of the row itself."""
        if name != "pb" or self.at is None:
            return "of this row"
        return f"in force at its time: {self.course.policy_at(self.at).words}"

    def reading(self, reading: Reading) -> InputLine:
        """A charted value with its marks, leading to its own explanation."""
        field = self.course.words.fields[reading.field]
        value = of_reading(field, reading)
        return InputLine(
            shown=opening(value, self.course.facts.course_id, reading.observed_at),
            state=state_words(field, reading),
            when=when_in(reading.observed_at, self.course.now, self.course.clock),
            author=reading.author,
            notes=tuple(notes_on(reading, self.course)),
        )

    def worked(self, key: str, worked: WorkedOut) -> InputLine:
        """An index of the same row, leading to its own explanation."""
        value = of_index(CATALOGUE[key], worked)
        return InputLine(replace(value, href=self.row_href(key)), "worked out")

    def _body(self, name: str, body: BodySize) -> InputLine:
        height = name == "height"
        method = FIELDS["height_method"].label_of(body.height_method).lower()
        return InputLine(
            shown=_height(body) if height else _sex(body),
            state=(method or "how it was found is not stated") if height else "stated",
            when=when_in(body.observed_at, self.course.now, self.course.clock),
            author=body.author,
            notes=tuple(_body_notes(name, body)),
        )


def _body_notes(name: str, body: BodySize) -> Iterator[str]:
    """Where a height comes from, and what was held true before it was corrected."""
    if name == "height" and body.source:
        yield body.source
    before = body.corrected_from
    if before is not None:
        was = _height(before) if name == "height" else _sex(before)
        why = f": {body.why}" if body.why else ""
        yield f"corrected{why}; was {was.text or was.word}, written by {before.author}"


def _height(body: BodySize) -> Shown:
    field = FIELDS["height_cm"]
    if body.height_cm is None:
        return Shown(field.name, "", Drawn.NOT_MEASURED, field.unit, "no height")
    return Shown(field.name, shown(field, body.height_cm), Drawn.MEASURED, field.unit)


def _sex(body: BodySize) -> Shown:
    field = FIELDS["pbw_sex"]
    if not body.pbw_sex:
        return Shown(field.name, "", Drawn.NOT_MEASURED, word="not stated")
    return Shown(field.name, field.label_of(body.pbw_sex), Drawn.STATED)


def state_words(field: Field, reading: Reading) -> str:
    """How the reading came to be, in words."""
    if reading.state is State.MEASURED and field.manner is not Manner.MEASURED:
        return "stated" if field.manner is Manner.STATED else "first charted"
    return STATES[reading.state]


def notes_on(reading: Reading, course: Known) -> Iterator[str]:
    """What must be known beside the value: corrections first, then questions and origin."""
    yield from _corrections(reading, course)
    if reading.raw and _differs(reading):
        yield f"typed {quoted(reading.raw)}"
    yield from _marks(reading)
    if reading.recorded_at - reading.observed_at > LATE_AFTER:
        yield f"late, written {clock_time(reading.recorded_at, course.now, course.clock)}"


def _corrections(reading: Reading, course: Known) -> Iterator[str]:
    """Each version with the one that it replaced, the newest first."""
    newer = reading
    while newer.corrected_from is not None:
        before, field = newer.corrected_from, course.words.fields[newer.field]
        was = reading_text(field, before) if before.has_value else "not measured"
        at = clock_time(newer.recorded_at, course.now, course.clock)
        why = f": {newer.why}" if newer.why else ""
        yield f"corrected by {newer.author} {at}{why}; was {was}, written by {before.author}"
        newer = before


def _differs(reading: Reading) -> bool:
    """Whether what was typed reads otherwise than what is kept."""
    typed = reading.raw.strip()
    kept = reading.word if reading.number is None else spelled(reading.number)
    return reading.state is not State.CONFIRMED and typed not in (kept, _plain(reading.number))


def _plain(number: Decimal | None) -> str:
    return "" if number is None else f"{number:f}"


def _marks(reading: Reading) -> Iterator[str]:
    asked = f": {reading.question}" if reading.question else ""
    words = {
        Mark.UNCONFIRMED_IMPORT: f"imported; nobody was asked at the bedside{asked}",
        Mark.INFERRED: "inferred by the import from other columns",
        Mark.ASKED: f"asked before it was saved, and let stand{asked}",
        Mark.AS_FOUND: "recorded as found",
    }
    yield from (words[mark] for mark in reading.marks)
