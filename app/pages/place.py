"""Build the page of where a patient is: moves, changing places, out and back, and the end."""

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct

from app.charting.course_ends import END_KINDS, end_words
from app.charting.facts import BedStay, CourseFacts
from app.pages.assess_page import Option
from app.pages.fill import FillSheet, patient_form
from app.pages.fill_page import Blank, FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.times import when_in

BED, SWAP, OUT, CLOSE, TAKE_BACK = "bed", "swap", "out", "close", "take-back"
CODES = ("bed", "other", "other_number", "end", "words")


class PlaceAct(Struct, frozen=True):
    """One thing that can be done: its word, its button, what its time is called."""

    code: str
    label: str
    save: str
    at: str
    note: str = ""


_ACTS = (
    PlaceAct(
        BED,
        "To another bed",
        "Save: moved",
        "Moved at",
        "Record, tasks and handoff go with the patient. Machine, rescue gear and outlets in the "
        "new place become a task.",
    ),
    PlaceAct(
        SWAP,
        "Change places",
        "Save: both moved",
        "Moved at",
        "Both moves are kept together or not at all.",
    ),
    PlaceAct(
        OUT,
        "Out of the unit, to come back",
        "Save: out of the unit",
        "Left at",
        "The bed becomes free and the course stays open, without a line on the board. For a "
        "transport that keeps the bed, chart an event.",
    ),
    PlaceAct(
        CLOSE,
        "Close the course",
        "Close the course",
        "Ended at",
        "The bed becomes free, nothing is due any more, and everything stays readable.",
    ),
)
PLACE_ACTS = {act.code: act for act in _ACTS}
BACK_IN = PlaceAct(
    BED,
    "Back into a bed",
    "Save: back",
    "Back at",
    "What is due counts again from here.",
)
TAKEN_BACK = PlaceAct(
    TAKE_BACK,
    "Take the end back",
    "Take the end back",
    "",
    "The end stays in the record, with why it was taken back.",
)


class TakenBed(Struct, frozen=True):
    """A bed with somebody else in it."""

    code: str
    course_id: str
    name: str


class Beds(Struct, frozen=True):
    """The unit's beds for the form; `asks_number` is the question of whose chart the other is."""

    free: tuple[str, ...]
    taken: tuple[TakenBed, ...]
    asks_number: str = ""


def place_page(
    frame: Frame, course: Known, act: str, sheet: FillSheet, beds: Beds, *, may_place: bool
) -> FillPage:
    """Where one patient is and was; `act` names the form that is open."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    offered = offered_acts(facts)
    chosen = next((each for each in offered if each.code == act), offered[0])
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Where the patient is",
        lead=_lead(course),
        ways=_ways(base, offered, chosen) if may_place else (),
        history=tuple(_history(course)),
        history_words="Where the patient was, newest first",
        form=_form(course, chosen, sheet, beds) if may_place else None,
        back_href=base,
    )


def offered_acts(facts: CourseFacts) -> tuple[PlaceAct, ...]:
    """What can be done with where the patient is, the likeliest first."""
    if facts.ended_at is not None:
        return (TAKEN_BACK,)
    if not facts.bed_stays or facts.bed_stays[-1].bed is None:
        return (BACK_IN, PLACE_ACTS[CLOSE])
    return _ACTS


def _ways(base: str, offered: tuple[PlaceAct, ...], chosen: PlaceAct) -> tuple[NavLink, ...]:
    return tuple(
        NavLink(act.label, f"{base}/place?act={act.code}", current=act is chosen) for act in offered
    )


def _lead(course: Known) -> str:
    facts = course.facts
    stay = facts.bed_stays[-1] if facts.bed_stays else None
    if facts.ended_at is not None:
        words = facts.ends[-1].words if facts.ends else ""
        at = when_in(facts.ended_at, course.now, course.clock).text
        return f"Closed {at}. {end_words(facts.end_kind, words)}."
    if stay is None:
        return "The patient is in no bed of this unit."
    since = when_in(stay.from_at, course.now, course.clock).text
    return f"{_where(stay)}, since {since}."


def _where(stay: BedStay) -> str:
    if stay.bed is not None:
        return f"In {stay.bed}"
    return f"Out of the unit: {stay.words}" if stay.words else "In no bed of this unit"


def _history(course: Known) -> Iterator[HistoryLine]:
    facts = course.facts
    stands = facts.bed_stays[-1] if facts.bed_stays and facts.ended_at is None else None
    told: list[tuple[datetime, HistoryLine]] = []
    for stay in facts.bed_stays:
        why = stay.words if stay.bed is not None else ""
        told.append((stay.from_at, _line(course, stay.from_at, _where(stay), stay.author, why)))
    for end in facts.ends:
        if end.ended_at is not None:
            words = f"Closed: {end_words(end.kind, end.words)}"
            told.append((end.ended_at, _line(course, end.ended_at, words, end.author)))
        else:
            line = _line(course, end.written_at, "The end was taken back", end.author, end.words)
            told.append((end.written_at, line))
    newest = stands.from_at if stands is not None else None
    for at, line in sorted(told, key=lambda pair: pair[0], reverse=True):
        is_here = at == newest and line.words.startswith("In ")
        yield HistoryLine(line.when, line.words, line.author, line.why, holds=is_here)


def _line(course: Known, at: datetime, words: str, author: str, why: str = "") -> HistoryLine:
    return HistoryLine(when_in(at, course.now, course.clock), words, author, why)


def _form(course: Known, act: PlaceAct, sheet: FillSheet, beds: Beds) -> FillForm:
    sections = [FillSection(act.label, tuple(_blanks(course, act, sheet, beds)), act.note)]
    hidden = (("act", act.code),)
    return patient_form(course, "place", sheet, sections, act.save, at=act.at, hidden=hidden)


def _blanks(course: Known, act: PlaceAct, sheet: FillSheet, beds: Beds) -> Iterator[Blank]:
    typed = sheet.typed
    if act.code in (BED, TAKE_BACK):
        before = course.facts.bed_stays[-1].bed if course.facts.bed_stays else ""
        held = before if act.code == TAKE_BACK and before in beds.free else ""
        chosen = typed.get("bed", held or "")
        empty = "in no bed" if act.code == TAKE_BACK else "choose"
        options = tuple(Option(code, code, code == chosen) for code in beds.free)
        yield Blank("bed", "Empty bed", "choice", chosen, options=options, empty=empty)
    if act.code == SWAP:
        yield from _whom(sheet, beds)
    if act.code == CLOSE:
        kinds = END_KINDS.values()
        ends = tuple(Option(k.code, k.label, k.code == typed.get("end")) for k in kinds)
        yield Blank("end", "How it ended", "choice", options=ends, empty="choose")
    label, hint = _WORDS[act.code]
    yield Blank("words", label, "text", typed.get("words", ""), hint=hint)


_WORDS = {
    BED: ("In a few words", ""),
    SWAP: ("In a few words", ""),
    OUT: ("Where to", "Another unit, theatre; with a name to ask there."),
    CLOSE: ("In a few words", "Where to; for a death, who pronounced it."),
    TAKE_BACK: ("Why", ""),
}


def _whom(sheet: FillSheet, beds: Beds) -> Iterator[Blank]:
    other = sheet.typed.get("other", "")
    options = tuple(
        Option(bed.course_id, f"{bed.code}: {bed.name}", bed.course_id == other)
        for bed in beds.taken
    )
    yield Blank("other", "With whom", "choice", other, options=options, empty="choose")
    if beds.asks_number:
        label = f"{beds.asks_number} of the other patient"
        number = sheet.typed.get("other_number", "")
        hint = "Read it off the other patient's band, not off this screen."
        yield Blank("other_number", label, "text", number, hint=hint)
