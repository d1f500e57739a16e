"""Build the page of a patient's own ranges: what holds, what held before, ordering and ending."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from msgspec import Struct, field

from app.charting.facts import OwnRange
from app.charting.unit_words import spelled
from app.pages.assess_head import observed_input
from app.pages.assess_page import Option
from app.pages.fill_page import Blank, FillForm, FillPage, FillSection, HistoryLine
from app.pages.flag_words import label_of, with_site_unit
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.own_range_words import own_range_lines, own_range_words
from app.pages.times import clock_time, when_in
from app.rules.own_ranges import in_force
from app.rules.policy import Limit

CODES = ("own_limit", "own_under", "own_over", "until", "ordered_by", "why")
NOTE = (
    "It takes the place of the unit's range for this patient, for what is observed from now on. "
    "What lies outside it is said to be outside this patient's own range, with who ordered it."
)


class OwnSheet(Struct, frozen=True):
    """What somebody typed, and what is wrong with it by field; empty for a first look."""

    save_key: str
    observed_at: datetime
    typed: Mapping[str, str] = field(default_factory=dict)
    observed_text: str = ""
    bad: Mapping[str, str] = field(default_factory=dict)


def own_ranges_page(
    frame: Frame,
    course: Known,
    limits: Mapping[str, Limit],
    sheet: OwnSheet,
    *,
    may_order: bool,
    ending: str = "",
) -> FillPage:
    """The own ranges of one patient; with `ending` the form ends that limit's instead."""
    facts = course.facts
    base = f"/courses/{facts.course_id}"
    is_open = may_order and facts.ended_at is None and course.summary.adult
    holding = in_force(facts.own_ranges, course.now)
    ending = ending if any(own.limit == ending for own in holding) else ""
    return FillPage(
        frame=frame,
        banner=course.banner,
        heading="This patient's own ranges",
        lead=_lead(course),
        ways=tuple(_ways(base, holding, ending)) if is_open and holding else (),
        history=tuple(_history(holding, course)),
        history_words="Every range of this patient's own, newest first",
        form=_form(base, limits, sheet, course, ending) if is_open else None,
        back_href=base,
    )


def _lead(course: Known) -> str:
    lines = own_range_lines(course.facts, course.now, course.clock, course.words)
    if not lines:
        return f"None is ordered: the unit's ranges hold ({course.policy.words})."
    return f"{'; '.join(lines)}. For everything else the unit's ranges hold."


def _ways(base: str, holding: Sequence[OwnRange], ending: str) -> Iterator[NavLink]:
    yield NavLink("Order a range", f"{base}/own-ranges", current=not ending)
    for own in holding:
        label = f"End: {label_of(own.limit).lower()}"
        yield NavLink(label, f"{base}/own-ranges?end={own.limit}", current=ending == own.limit)


def _history(holding: Sequence[OwnRange], course: Known) -> Iterator[HistoryLine]:
    for own in reversed(course.facts.own_ranges):
        until = f", until {clock_time(own.until, course.now, course.clock)}" if own.until else ""
        yield HistoryLine(
            when=when_in(own.from_at, course.now, course.clock),
            words=f"{own_range_words(own, course.words)}{until}",
            author=f"Ordered by {own.ordered_by}, written by {own.author}",
            why=own.why,
            holds=own in holding,
        )


def _form(
    base: str, limits: Mapping[str, Limit], sheet: OwnSheet, course: Known, ending: str
) -> FillForm:
    return FillForm(
        action=f"{base}/own-ranges",
        sections=tuple(_sections(limits, sheet, course, ending)),
        save_label="End the range" if ending else "Save the range",
        save_key=sheet.save_key,
        back_href=base,
        observed=observed_input(
            "Ordered at",
            sheet.observed_at,
            sheet.observed_text,
            sheet.bad.get("observed_at", ""),
            course.clock,
            course.now,
        ),
        hidden=(("end", ending),) if ending else (),
        errors=tuple(dict.fromkeys(sheet.bad.values())),
    )


def _sections(
    limits: Mapping[str, Limit], sheet: OwnSheet, course: Known, ending: str
) -> Iterator[FillSection]:
    whose = (
        _blank("ordered_by", "Ordered by", "text", sheet),
        _blank("why", "Why", "text", sheet),
    )
    if ending:
        yield FillSection(f"{label_of(ending)}: the unit's range holds again", whose)
        return
    chosen = sheet.typed.get("own_limit", "")
    options = tuple(Option(key, _option(limits[key], course), key == chosen) for key in limits)
    limit = Blank("own_limit", "Limit", "choice", chosen, options=options, empty="choose…")
    limit = _said(limit, sheet)
    yield FillSection(
        "Another range for this patient",
        (
            limit,
            _blank("own_under", "Outside under", "number", sheet),
            _blank("own_over", "Outside over", "number", sheet),
            _blank("until", "Until", "moment", sheet, "Empty: until the course ends."),
            *whose,
        ),
        NOTE,
    )


def _option(limit: Limit, course: Known) -> str:
    ends = [("under", limit.under), ("over", limit.over)]
    told = " or ".join(
        f"{side} {with_site_unit(limit.key, spelled(end), course.words)}"
        for side, end in ends
        if end is not None
    )
    return f"{label_of(limit.key)} (unit: {told})"


def _blank(code: str, label: str, shape: str, sheet: OwnSheet, hint: str = "") -> Blank:
    return _said(Blank(code, label, shape, sheet.typed.get(code, ""), hint=hint), sheet)


def _said(blank: Blank, sheet: OwnSheet) -> Blank:
    """What is wrong with it stands beside it, in place of its hint."""
    bad = sheet.bad.get(blank.code, "")
    return Blank(
        blank.code,
        blank.label,
        blank.shape,
        blank.typed,
        hint=bad or blank.hint,
        options=blank.options,
        empty=blank.empty,
        bad=bad,
    )
