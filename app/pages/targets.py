"""Build the page of what was ordered: what holds, what held before, and ordering anew."""

from collections.abc import Iterator, Sequence

from app.charting.facts import Targets
from app.pages.fill import FillSheet, patient_form, section
from app.pages.fill_page import FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.target_words import targets_words
from app.pages.times import when_in

SPO2 = ("spo2_band", "spo2_target_low", "spo2_target_high")
GASES = (
    "pao2_target_low",
    "pao2_target_high",
    "ph_target_low",
    "ph_target_high",
    "paco2_target_low",
    "paco2_target_high",
)
CODES = ("ordered_by", *SPO2, *GASES, "volume_target", "why")


def targets_page(
    frame: Frame,
    course: Known,
    orders: Sequence[Targets],
    sheet: FillSheet,
    *,
    ending: bool,
    may_order: bool,
) -> FillPage:
    """The orders of one patient; with `ending` the form ends what holds instead."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    stands = bool(targets_words(facts.targets))
    is_open = may_order and facts.ended_at is None
    ending = ending and stands
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="Ordered targets",
        lead=_lead(facts.targets),
        ways=_ways(base, ending=ending) if is_open and stands else (),
        history=tuple(_history(orders, course)),
        history_words="Every order, newest first",
        form=_form(sheet, course, ending=ending) if is_open else None,
        back_href=base,
    )


def _lead(ordered: Targets) -> str:
    words = targets_words(ordered)
    if not words:
        return "No target is ordered, so nothing can be held against one."
    return f"Ordered: {words}, by {ordered.ordered_by or 'nobody named'}."


def _ways(base: str, *, ending: bool) -> tuple[NavLink, ...]:
    return (
        NavLink("Order anew", f"{base}/targets", current=not ending),
        NavLink("End the order", f"{base}/targets?end=yes", current=ending),
    )


def _history(orders: Sequence[Targets], course: Known) -> Iterator[HistoryLine]:
    for ordered in reversed(orders):
        at = ordered.ordered_at
        yield HistoryLine(
            when=when_in(at or course.facts.support_started_at, course.now, course.clock),
            words=targets_words(ordered) or "Order ended",
            author=ordered.ordered_by or "nobody named",
            why=ordered.why,
            holds=ordered is orders[-1],
        )


def _form(sheet: FillSheet, course: Known, *, ending: bool) -> FillForm:
    label = "End the order" if ending else "Save the order"
    hidden = (("end", "yes"),) if ending else ()
    sections = _sections(sheet, ending=ending)
    return patient_form(course, "targets", sheet, sections, label, at="Ordered at", hidden=hidden)


def _sections(sheet: FillSheet, *, ending: bool) -> Iterator[FillSection]:
    if ending:
        yield section("The order ends", ("ordered_by", "why"), sheet)
        return
    yield order_section(sheet)
    yield section("Why anew", ("why",), sheet)


def order_section(sheet: FillSheet) -> FillSection:
    """Who ordered which bands; every target is written, and what is left empty is not ordered."""
    note = "There is no default. What is left empty is not ordered."
    return section("Ordered targets", ("ordered_by", *SPO2, *GASES, "volume_target"), sheet, note)
