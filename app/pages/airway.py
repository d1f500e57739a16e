"""Build the airway page: the tube in place, all that was done with it, and the form of one act."""

from collections.abc import Iterator

from app.charting.airways import (
    AIRWAY_ACTS,
    EXCHANGED,
    PLACED,
    REMOVED,
    SPARES,
    TRACHEOSTOMY,
    AirwayAct,
    depth_now,
    has_tube,
    reference_now,
)
from app.charting.facts import Airway
from app.charting.in_force import airway_at
from app.pages import airway_words
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.known import Known, is_fresh_now
from app.pages.times import when_in

_HOW = ("confirmed_by", "confirmed_co2", "confirmed_ears", "confirmed_image")
HOW_NOTE = (
    "A CO2 waveform confirms a tube in the windpipe (AARC capnography guideline 2011); "
    "listening and an image: common practice."
)


def airway_page(
    frame: Frame, course: Known, act: str, sheet: FillSheet, *, may_record: bool
) -> FillPage:
    """The airway of one patient; `act` names the form that is open, the likeliest unless given."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    now = airway_at(facts.airways, course.now)
    offered = offered_acts(now)
    chosen = act if act in AIRWAY_ACTS else offered[0].code
    open_form = may_record and facts.ended_at is None
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Airway",
        lead=_lead(course, now),
        ways=_ways(base, offered, chosen) if open_form else (),
        history=tuple(_history(course)),
        history_words="Everything that was done with it, newest first",
        form=_form(course, AIRWAY_ACTS[chosen], sheet) if open_form else None,
        back_href=base,
    )


def offered_acts(now: Airway | None) -> tuple[AirwayAct, ...]:
    """What can be done with the airway in place, the likeliest first."""
    if not has_tube(now):
        return (AIRWAY_ACTS[PLACED], AIRWAY_ACTS[TRACHEOSTOMY])
    is_trach = now is not None and now.category == "trach"
    left_out = {PLACED, TRACHEOSTOMY} if is_trach else {PLACED, SPARES}
    return tuple(act for code, act in AIRWAY_ACTS.items() if code not in left_out)


def _ways(base: str, offered: tuple[AirwayAct, ...], chosen: str) -> tuple[NavLink, ...]:
    return tuple(
        NavLink(act.label, f"{base}/airway?act={act.code}", current=act.code == chosen)
        for act in offered
    )


def _lead(course: Known, now: Airway | None) -> str:
    if now is None:
        return "No airway is recorded."
    if now.act == REMOVED:
        return "No tube is in place."
    depth = depth_now(course.facts, now, course.now)
    mark = reference_now(course.facts, now)
    at = f", {airway_words.depth_at(depth, mark)}" if depth is not None else ""
    fresh = ". Fresh tracheostomy" if is_fresh_now(course) else ""
    return f"In place: {airway_words.tube(now)}{at}{fresh}."


def _history(course: Known) -> Iterator[HistoryLine]:
    airways = course.facts.airways
    for place in reversed(range(len(airways))):
        row, before = airways[place], airways[place - 1] if place else None
        yield HistoryLine(
            when=when_in(row.observed_at, course.now, course.clock),
            words=airway_words.line(row, before),
            author=row.author,
            why=row.why,
            holds=row is airways[-1],
        )


def _form(course: Known, act: AirwayAct, sheet: FillSheet) -> FillForm:
    label, hidden = f"Save: {act.label.lower()}", (("act", act.code),)
    sections = _sections(act, sheet)
    return patient_form(course, "airway", sheet, sections, label, at="Done at", hidden=hidden)


def _sections(act: AirwayAct, sheet: FillSheet) -> Iterator[FillSection]:
    what = tuple(code for code in act.asks if code not in _HOW)
    note = "Left empty, what it is stays as it was." if act.code == EXCHANGED else ""
    empty = "as it was" if act.needs_tube else "not yet"
    yield section(act.label, what, sheet, note, empty=empty)
    if set(_HOW) <= set(act.asks):
        yield section("How its place was confirmed", _HOW, sheet, HOW_NOTE)
