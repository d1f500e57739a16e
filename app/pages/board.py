"""Build the board from the bed summaries: bed order, absolute moments, what stands out in words."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.episodes import MEMBRANE, NITRIC, PRONE, TRIAL
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.shown import signed
from app.pages.board_page import BoardPage, BoardRow
from app.pages.day_words import day_of
from app.pages.due_words import check_due
from app.pages.frame import Frame
from app.pages.handing_over import hold_words
from app.pages.number_links import opening
from app.pages.short_words import brief_basis, brief_reason
from app.pages.shown import Beyond, Count, Drawn, Shown, Tone, Worry
from app.pages.site_words import PLAIN, SiteWords
from app.pages.support_words import support_words
from app.pages.times import clock_time, when_in
from app.pages.unsigned import drafts_words
from app.pages.worries import NO_FLAG, worries_of
from app.physiology.catalogue import CATALOGUE
from app.rules.bed_summary import BedSummary
from app.rules.board_cells import Cell
from app.rules.flags_now import SAFETY
from app.rules.policy import Policy
from app.rules.standing import Statement, Verdict
from app.rules.unit_clock import UnitClock

LUNGS = ("vt_per_pbw", "driving_pressure", "compliance_static")
GAS = ("spo2", "pf_ratio")
OF_A_HOLD = frozenset({"driving_pressure", "compliance_static"})


class BoardBed(Struct, frozen=True):
    """One bed as the record hands it to the board: its code, who is in it, and their summary."""

    code: str
    note: str
    summary: BedSummary | None
    course_id: str = ""


def board_page(
    frame: Frame,
    beds: Sequence[BoardBed],
    *,
    policy: Policy,
    clock: UnitClock,
    now: datetime,
    version: str,
    words: SiteWords = PLAIN,
) -> BoardPage:
    """The board at `now`. Ages are left to the reader's own clock, so rows can be kept."""
    rows = [board_row(bed, now, clock, words) for bed in beds]
    return board_of_rows(frame, rows, policy=policy, version=version)


def board_of_rows(
    frame: Frame, rows: Sequence[BoardRow], *, policy: Policy, version: str
) -> BoardPage:
    """The same from rows that are worked out already."""
    return BoardPage(
        frame=frame,
        counts=_counts(rows),
        rows=tuple(rows),
        version=version,
        policy_words=f"Limits: {policy.words}",
    )


def board_row(bed: BoardBed, now: datetime, clock: UnitClock, words: SiteWords = PLAIN) -> BoardRow:
    """One bed of the board; an empty one says so."""
    href = f"/beds/{bed.code}"
    summary = bed.summary
    if summary is None:
        return BoardRow(bed.code, href, occupied=False, empty_words=bed.note or "Empty")
    # No adult limit holds for a child, so no number of a child is drawn against one (decision 1).
    told = {e.key: e.as_of(now) for e in summary.statements} if summary.adult else {}
    lungs_words = _no_mechanics(summary)

    def at(key: str) -> Shown:
        shown = _with_its_own_time(_shown(key, summary, told, now, words), summary, now, clock)
        observed_at = summary.cells[key].at if key in summary.cells else None
        return opening(shown, bed.course_id, observed_at) if bed.course_id else shown

    found = worries_of(summary, now, clock, words=words, brief=True)
    worries = tuple(_terse(worry, summary) for worry in found)
    return BoardRow(
        bed=bed.code,
        href=href,
        occupied=True,
        who=summary.name,
        who_line=_who_line(summary, now, clock),
        airway=_airway(summary),
        airway_line=_airway_line(summary),
        support=_support(summary, now, clock),
        support_line=_with_what_lasts(_support_line(summary), summary, now, clock),
        fio2=at("fio2_set"),
        peep=_peep(at("peep_set"), summary),
        lungs=() if lungs_words else tuple(at(key) for key in LUNGS),
        lungs_words=lungs_words,
        gas=tuple(at(key) for key in GAS),
        worries=worries,
        quiet_words="" if any(_presses(worry) for worry in worries) else NO_FLAG,
        due=check_due(summary, now, clock),
        hold=hold_words(summary.handoff, clock, now),
        offered=summary.handoff.offered_at is not None,
        last_check=_last_check(summary, now, clock),
        drafts=summary.drafts,
        drafts_words=drafts_words(summary.drafts),
    )


def _terse(worry: Worry, summary: BedSummary) -> Worry:
    """A flag's value has a time only where it is older than the last check, which has one."""
    last = summary.last_check_at
    if worry.tone not in (Tone.FLAG, Tone.SEEN) or worry.when is None or last is None:
        return worry
    return replace(worry, when=None) if datetime.fromisoformat(worry.when.iso) >= last else worry


def _presses(worry: Worry) -> bool:
    return worry.tone is not Tone.NOTE


def _who_line(summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    age = f"{summary.age_y}" if summary.age_y is not None else "age?"
    sex = summary.sex if summary.sex in ("M", "F") else ""
    day = day_of(summary, now, clock)
    return " · ".join(part for part in (f"{age} {sex}".strip(), day) if part)


def _airway(summary: BedSummary) -> str:
    airway = summary.airway
    if airway is None:
        return "No airway charted"
    if airway.category == "none":
        return "No tube"
    reference = FIELDS["airway_depth_reference"].label_of(airway.depth_reference).lower()
    at = f"at {airway.depth_cm} {reference}".strip() if airway.depth_cm else ""
    kind = FIELDS["airway_category"].label_of(airway.category)
    if airway.category.startswith("ett"):
        return " ".join(part for part in (airway.size_mm, at) if part) or kind
    return " ".join(part for part in (kind, airway.size_mm) if part)


def _airway_line(summary: BedSummary) -> str:
    cuff = summary.cells.get("cuff_pressure_cmh2o")
    parts = [f"cuff {cuff.text}"] if cuff is not None and cuff.text else []
    if summary.airway is not None and summary.airway.difficult not in ("", "no"):
        parts.append("difficult airway")
    return " · ".join(parts)


def _support(summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    if summary.family == "standby" and summary.family_since is not None:
        return f"On standby since {clock_time(summary.family_since, now, clock)}"
    return support_words(summary).removesuffix(", assist/control")


def _support_line(summary: BedSummary) -> str:
    """The two settings that say most of the family, in the trade's short form."""
    cells = {key: cell.text for key, cell in summary.cells.items() if cell.text}
    volume, rate = cells.get("tidal_volume_set"), cells.get("resp_rate_set")
    above = cells.get("pressure_control_set")
    support = cells.get("pressure_support_set")
    parts = {
        "volume": f"{volume} mL" if volume else "",
        "control": f"{above} above PEEP" if above else "",
        "support": f"PS {support}" if support is not None else "",
        "levels": _levels(cells),
        "mask": f"IPAP {cells['ipap_set']}" if "ipap_set" in cells else "",
        "flow": f"{cells['lpm_set']} L/min" if "lpm_set" in cells else "",
    }
    wanted = _SUPPORT_PARTS.get(summary.family, ())
    line = " · ".join(parts[name] for name in wanted if name != "rate" and parts[name])
    return f"{line} × {rate}" if "rate" in wanted and rate and line else line


def _with_what_lasts(line: str, summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    """The settings, and since when the patient lies prone or is on a trial or on a membrane."""
    told = (
        f"{words} since {clock_time(summary.lasting[kind], now, clock)}"
        for kind, words in _LASTING.items()
        if kind in summary.lasting
    )
    return " · ".join(filter(None, (line, *told)))


_LASTING = {
    PRONE: "prone",
    TRIAL: "breathing trial",
    NITRIC: "nitric oxide",
    MEMBRANE: "extracorporeal",
}


def _levels(cells: dict[str, str]) -> str:
    high, low = cells.get("pressure_high_set"), cells.get("pressure_low_set")
    return f"{high} / {low}" if high and low else ""


_SUPPORT_PARTS: dict[str, tuple[str, ...]] = {
    "ac_vc": ("volume", "rate"),
    "ac_vtpc": ("volume", "rate"),
    "ac_pc": ("control", "rate"),
    "simv_vc": ("volume", "rate"),
    "simv_pc": ("control", "rate"),
    "simv_vtpc": ("volume", "rate"),
    "csv_ps": ("support",),
    "csv_vtps": ("volume",),
    "bilevel": ("levels",),
    "aprv": ("levels",),
    "niv": ("mask",),
    "hfnc": ("flow",),
    "o2_mask": ("flow",),
    "unassisted": ("flow",),
}


def _no_mechanics(summary: BedSummary) -> str:
    """One sentence across the group where the family has no volumes and pressures at all."""
    family = family_of(summary.family)
    if summary.family and not family.ventilates:
        return f"No mechanics: {family.label.lower()}"
    if not summary.family and summary.family_since is not None:
        return f"No mechanics: {support_words(summary).lower()}"
    return ""


def _shown(
    key: str, summary: BedSummary, told: dict[str, Statement], now: datetime, words: SiteWords
) -> Shown:
    label, unit = _label_and_unit(key, words)
    cell = summary.cells.get(key, Cell(reason="not charted"))
    if not cell.text:
        return Shown(label, "", _absence(cell), unit, _why_not(key, cell, summary), key=key)
    statement = told.get(key)
    beyond = statement is not None and statement.side != "" and statement.at == cell.at
    limit = _limit_words(statement, words) if statement is not None and beyond else ""
    return Shown(
        label=label,
        text=signed(words.text(key, cell.text)),
        drawn=Drawn.WORKED_OUT if key in CATALOGUE else Drawn.MEASURED,
        unit=unit,
        word=limit or brief_basis(cell.basis),
        beyond=Beyond(statement.side) if statement is not None and beyond else Beyond.NO,
        once=statement is not None and statement.verdict is not Verdict.OUTSIDE,
        stale=cell.stale_at is not None and now >= cell.stale_at,
        corrected=cell.corrected,
        key=key,
        author=cell.author,
    )


def _with_its_own_time(shown: Shown, summary: BedSummary, now: datetime, clock: UnitClock) -> Shown:
    """A value older than the last check says when it was observed; the rest share that check's."""
    at, last = summary.cells[shown.key].at if shown.text else None, summary.last_check_at
    if at is None or last is None or at >= last:
        return shown
    return replace(shown, word=" · ".join(filter(None, (shown.word, clock_time(at, now, clock)))))


def _limit_words(told: Statement, words: SiteWords) -> str:
    return f"{told.side} {words.end(told.key, told.limit)}" if told.limit is not None else told.side


def _label_and_unit(key: str, words: SiteWords) -> tuple[str, str]:
    if key in FIELDS:
        return FIELDS[key].name, words.fields[key].unit
    return CATALOGUE[key].short_label, CATALOGUE[key].unit


def _why_not(key: str, cell: Cell, summary: BedSummary) -> str:
    if not cell.applicable and key in OF_A_HOLD and family_of(summary.family).spontaneous:
        return "not valid: assisted"
    if not cell.applicable and key == "vt_per_pbw" and not summary.adult:
        return "child"
    return brief_reason(cell.reason, cell.missing)


def _absence(cell: Cell) -> Drawn:
    if not cell.applicable:
        return Drawn.NOT_VALID
    return Drawn.NOT_MEASURED


def _peep(shown: Shown, summary: BedSummary) -> Shown:
    total = summary.cells.get("peep_total")
    if total is None or not total.text or total.text == shown.text or shown.word:
        return shown
    return replace(shown, word=f"total {total.text}")


def _last_check(summary: BedSummary, now: datetime, clock: UnitClock) -> Shown | None:
    if summary.last_check_at is None:
        return None
    when = when_in(summary.last_check_at, now, clock)
    return Shown("Last check", when.text, Drawn.STATED, when=when, author=summary.last_check_by)


def _counts(rows: Sequence[BoardRow]) -> tuple[Count, ...]:
    """Beds, not worries: a bed counts under each thing that is true of it."""
    tally: Counter[Tone] = Counter()
    quiet = empty = offered = safety = 0
    for row in rows:
        tally.update({worry.tone for worry in row.worries if not is_safety_flag(worry)})
        safety += any(map(is_safety_flag, row.worries))
        quiet += bool(row.quiet_words)
        empty += not row.occupied
        offered += row.offered
    return (
        Count(tally[Tone.FLAG], "flagged", Tone.FLAG),
        Count(safety, "with a safety flag", Tone.FLAG),
        Count(tally[Tone.ONCE], "outside once", Tone.ONCE),
        Count(tally[Tone.OVERDUE], "with a check overdue", Tone.OVERDUE),
        Count(tally[Tone.NOT_EVALUABLE], "cannot be judged", Tone.NOT_EVALUABLE),
        *_counted(tally[Tone.SEEN], "flagged and seen", Tone.SEEN),
        *_counted(tally[Tone.MUTED], "quiet: nothing judged", Tone.MUTED),
        Count(quiet, "with no flag raised"),
        Count(offered, "offered, not accepted"),
        Count(empty, "empty"),
        *_drafts(rows),
    )


def is_safety_flag(worry: Worry) -> bool:
    """Whether the line is a flag of safety, which is counted apart."""
    return worry.group == SAFETY and worry.tone is Tone.FLAG


def _counted(number: int, words: str, tone: Tone) -> Iterator[Count]:
    """A figure that stands only where there is something to count."""
    if number:
        yield Count(number, words, tone)


def _drafts(rows: Iterable[BoardRow]) -> Iterator[Count]:
    """Drafts, not beds, and only where there are some: a unit without students has no such line."""
    number = sum(row.drafts for row in rows)
    if number:
        yield Count(number, drafts_words(number).partition(" ")[2])
