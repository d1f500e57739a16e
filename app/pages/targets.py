"""Build the page of what was ordered: what holds, what held before, and ordering anew."""

from collections.abc import Iterator, Sequence

from app.charting.facts import Targets
from app.pages.assess_head import observed_input
from app.pages.banner import banner_of
from app.pages.bed import Known
from app.pages.fill import FillSheet, section
from app.pages.fill_page import FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import Frame, NavLink
from app.pages.row import asks_of
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
        banner=banner_of(facts, course.policy, course.clock, course.now, course.words),
        heading="Ordered targets",
        lead=_lead(facts.targets),
        ways=_ways(base, ending=ending) if is_open and stands else (),
        history=tuple(_history(orders, course)),
        history_words="Every order, newest first",
        form=_form(base, sheet, course, ending=ending) if is_open else None,
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


def _form(base: str, sheet: FillSheet, course: Known, *, ending: bool) -> FillForm:
    return FillForm(
        action=f"{base}/targets",
        sections=tuple(_sections(sheet, ending=ending)),
        save_label="End the order" if ending else "Save the order",
        save_key=sheet.save_key,
        back_href=base,
        observed=observed_input(
            "Ordered at",
            sheet.observed_at,
            sheet.observed_text,
            sheet.observed_error,
            course.clock,
            course.now,
        ),
        hidden=(("end", "yes"),) if ending else (),
        errors=sheet.errors,
        asks=asks_of(sheet.objections),
        accepted=tuple(sorted(sheet.accepted)),
    )


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
