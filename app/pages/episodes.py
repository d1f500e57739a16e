"""Build the page of prone sessions, transports, standby and trials: what goes on, and one form."""

from collections.abc import Iterator

from msgspec.structs import replace

from app.charting.episodes import (
    AWAY,
    EPISODE_ACTS,
    IN_ITS_LINE,
    PRONE,
    SCREEN,
    EpisodeAct,
    Phase,
    offered_acts,
)
from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS
from app.charting.fields.episodes import SCREEN_ITEMS
from app.pages.episode_words import detail_words, end_words, going_lines, lasted_words
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.prone_words import around_turn
from app.pages.times import when_in
from app.pages.transport_words import around_transport, cylinder_of, cylinder_words
from app.rules.episodes_due import is_child

HEADING = "Prone, transport, trials"
FROM_THE_CHART = "From the chart"
"""Who says what nobody wrote down with the event itself."""

AT_THE_END = ("trial_outcome", "trial_reason", "screen_not_done")
"""What the line of an event says once it is over."""

OF_THIS_PAGE = frozenset(act.kind for act in EPISODE_ACTS.values())


def episodes_page(
    frame: Frame,
    course: Known,
    act: str,
    sheet: FillSheet,
    cylinder: dict[str, str],
    *,
    may_record: bool,
) -> FillPage:
    """What lasts at one patient; `act` names the form that is open, the likeliest unless given."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    offered = offered_acts(facts.events, course.now)
    chosen = EPISODE_ACTS[act] if act in EPISODE_ACTS else offered[0]
    open_form = may_record and facts.ended_at is None
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading=HEADING,
        lead=_lead(course),
        ways=tuple(_ways(base, offered, chosen)) if open_form else (),
        history=tuple(_history(course)),
        history_words="What was charted, newest first",
        form=_form(course, chosen, sheet, cylinder) if open_form else None,
        back_href=base,
    )


def _lead(course: Known) -> str:
    lines = going_lines(course.facts, course.policy, course.clock, course.now)
    return ". ".join(lines) + "." if lines else "Nothing of this kind goes on."


def _ways(base: str, offered: tuple[EpisodeAct, ...], chosen: EpisodeAct) -> Iterator[NavLink]:
    shown = offered if chosen in offered else (chosen, *offered)
    for act in shown:
        href = f"{base}/episodes?act={act.code}"
        yield NavLink(act.label, href, current=act is chosen)


def _form(course: Known, act: EpisodeAct, sheet: FillSheet, cylinder: dict[str, str]) -> FillForm:
    form = patient_form(
        course,
        "episodes",
        sheet,
        _sections(course, act, sheet),
        f"Save: {act.label.lower()}",
        at=_when_label(act),
        hidden=(("act", act.code),),
    )
    if not act.cylinder:
        return form
    worked_out = cylinder_of(cylinder, course.policy)
    return replace(form, look_label="Work out the minutes", cylinder=worked_out)


def _when_label(act: EpisodeAct) -> str:
    return {Phase.BEGIN: "Began at", Phase.END: "Ended at"}.get(act.phase, "Seen at")


def _sections(course: Known, act: EpisodeAct, sheet: FillSheet) -> Iterator[FillSection]:
    found = section(act.label, act.asks, sheet, _note(course, act), empty="not said")
    child = is_child(course.facts, course.policy)
    if act.kind == PRONE and act.phase is Phase.BEGIN and not child:
        figures = course.policy.episodes
        hint = f"{figures.prone_h:f} h unless said otherwise. {figures.prone_source}"
        blanks = tuple(
            replace(each, hint=hint) if each.code == "prone_target_h" else each
            for each in found.blanks
        )
        found = replace(found, blanks=blanks)
    yield found
    if act.at_end:
        yield section("If it is over already", act.at_end, sheet, empty="not said")


def _note(course: Known, act: EpisodeAct) -> str:
    figures = course.policy.episodes
    if act.kind == SCREEN and is_child(course.facts, course.policy):
        return "The unit's numbers for a screen are an adult's: they are off for this patient."
    if act.kind == SCREEN:
        return (
            f"This unit calls oxygen low enough up to FiO2 {figures.screen_fio2:f} % and PEEP"
            f" {figures.screen_peep:f} cmH2O. {figures.screen_source}"
        )
    if act.kind == PRONE:
        return "Gases are charted as gases; they stand below with the session."
    if act.kind == AWAY and act.phase is Phase.ADD:
        return "Values on a transport machine raise no drift flag."
    return ""


def _history(course: Known) -> Iterator[HistoryLine]:
    for event in reversed(course.facts.events):
        if event.kind in OF_THIS_PAGE:
            yield from _of_event(event, course)


def _of_event(event: Event, course: Known) -> Iterator[HistoryLine]:
    now, clock = course.now, course.clock
    lasts = EVENT_KINDS[event.kind].lasts
    ended = end_words(event, now, clock)
    lasted = f"; {lasted_words(event)}" if ended else ""
    yield HistoryLine(
        when_in(event.observed_at, now, clock),
        f"{event.words}{ended}{lasted}",
        event.author,
        holds=lasts and event.ended_at is None,
        href=f"/courses/{course.facts.course_id}/events/{event.id}",
    )
    around = "; ".join(_around(event, course))
    if around:
        yield HistoryLine(when_in(event.observed_at, now, clock), around, FROM_THE_CHART)
    told = (*IN_ITS_LINE.get(event.kind, ()), *SCREEN_ITEMS, *AT_THE_END)
    for place in reversed(range(len(event.said))):
        detail = event.said[place]
        without = told if place == 0 else AT_THE_END
        said = (detail_words(detail, without=without), cylinder_words(detail, course))
        words = "; ".join(filter(None, said))
        if words:
            yield HistoryLine(when_in(detail.observed_at, now, clock), words, detail.author)


def _around(event: Event, course: Known) -> Iterator[str]:
    if event.kind == PRONE:
        yield from around_turn(event, course)
    if event.kind == AWAY:
        yield from around_transport(event, course)
