"""The cells of the board: one value each, or the reason why there is none.

A cell holds absolute moments only, as the summary does that it is part of.
"""

from datetime import datetime

from msgspec import Struct

from app.charting.airways import is_outlived
from app.charting.corrected import stands_on_a_correction
from app.charting.derive import WorkedOut
from app.charting.facts import CourseFacts, Kind, Reading
from app.charting.field import Manner, Use
from app.charting.fields import FIELDS
from app.charting.reasons import not_done
from app.charting.shown import shown
from app.charting.uses import use_of
from app.physiology.answer import NotAvailable, Query, Value
from app.rules.attempts import Worked, was_tried
from app.rules.policy import Policy
from app.rules.stale import stale_after, stale_band
from app.rules.tubeless import breathed_since, is_of_the_tube, tube_out_at, why_not

FIELDS_ON_THE_BOARD = (
    "fio2_set",
    "peep_set",
    "tidal_volume_set",
    "resp_rate_set",
    "pressure_control_set",
    "pressure_support_set",
    "pressure_high_set",
    "pressure_low_set",
    "ipap_set",
    "lpm_set",
    "cuff_pressure_cmh2o",
    "airway_depth_cm",
    "spo2",
    "peep_total",
    "position",
)
INDICES_ON_THE_BOARD = (
    "vt_per_pbw",
    "driving_pressure",
    "compliance_static",
    "pf_ratio",
    "rsbi",
    "rox",
)


class Cell(Struct, frozen=True):
    """One value of the board: its text or the reason why there is none, and when it goes stale."""

    text: str = ""
    reason: str = ""
    missing: tuple[str, ...] = ()
    applicable: bool = True
    basis: str = ""
    at: datetime | None = None
    stale_at: datetime | None = None
    author: str = ""
    corrected: bool = False
    last_text: str = ""
    last_at: datetime | None = None


def board_cells(
    facts: CourseFacts, worked: Worked, policy: Policy, family: str, since: datetime | None
) -> dict[str, Cell]:
    """What stands in each cell, in a family of modes that goes on since then (none: "")."""
    cells = {key: _index_cell(key, worked, policy) for key in INDICES_ON_THE_BOARD}
    out = tube_out_at(facts)
    if out is not None:
        breathes = breathed_since(facts.standing, out)
        through = [key for key in cells if is_of_the_tube(key)]
        cells |= {key: _without_tube(key, cells[key], out, breathes) for key in through}
    newest = facts.latest_readings()
    charted = (code for code in FIELDS_ON_THE_BOARD if code in newest)
    cells |= {
        code: _field_cell(newest[code], policy)
        for code in charted
        if _in_use(newest[code], facts, family, since)
    }
    return cells


def _in_use(reading: Reading, facts: CourseFacts, family: str, since: datetime | None) -> bool:
    """A setting of an earlier mode, or the cuff of an earlier tube, is no longer a value."""
    if is_outlived(facts.airways, reading.field, reading.observed_at):
        return False
    if family in ("", "standby") and not still_set(reading, since):
        return False
    airway = facts.airways[-1].category if facts.airways else ""
    return use_of(family or "other", reading.field, Kind.FULL, airway) is not Use.HIDDEN


def still_set(reading: Reading, since: datetime | None) -> bool:
    """Whether a value still says how the machine stands: no setting from before does, since a
    standby, or since a tube came or went that ended the mode."""
    is_setting = FIELDS[reading.field].manner is Manner.SETTING
    return not is_setting or since is None or reading.observed_at >= since


def _field_cell(reading: Reading, policy: Policy) -> Cell:
    field = FIELDS[reading.field]
    if not reading.has_value:
        return Cell(reason=not_done(field.name, reading.reason), at=reading.observed_at)
    text = shown(field, reading.number) if reading.number is not None else reading.word
    return Cell(
        text=text,
        at=reading.observed_at,
        stale_at=reading.observed_at + stale_after(reading.field, policy),
        author=reading.author,
        corrected=reading.corrected_from is not None,
    )


def _index_cell(key: str, worked: Worked, policy: Policy) -> Cell:
    """The newest row that could answer: a gas for what needs a gas, else a full or valid one."""
    last: Cell | None = None
    newest: Cell | None = None
    for row, answers in reversed(worked):
        answer = answers[key].answer
        if isinstance(answer, Value):
            last = Cell(
                text=answer.shown,
                basis=answer.basis,
                at=row.observed_at,
                stale_at=row.observed_at + stale_after(key, policy),
                author=row.author,
                corrected=stands_on_a_correction(row, answers[key]),
            )
            break
        if newest is None and _speaks(key, row.kind) and was_tried(answers[key]):
            newest = _absence(answers[key], row.observed_at)
    if newest is None:
        return last or _never(key, worked)
    if last is None:
        return newest
    return Cell(
        reason=newest.reason,
        missing=newest.missing,
        applicable=newest.applicable,
        at=newest.at,
        last_text=last.text,
        last_at=last.at,
    )


def _without_tube(key: str, cell: Cell, out: datetime, family: str) -> Cell:
    """What was worked out through a tube that is out, as the last that there was."""
    if cell.at is not None and cell.at >= out:
        return cell
    why = why_not(key, family)
    return Cell(
        reason=why or "not charted",
        applicable=not why,
        at=out,
        last_text=cell.text or cell.last_text,
        last_at=cell.at if cell.text else cell.last_at,
    )


def _speaks(key: str, kind: Kind) -> bool:
    """Whether a row of this kind is meant to carry the index: a brief check is no failed hold."""
    if kind is Kind.BRIEF:
        return False
    return (kind is Kind.GAS) == (stale_band(key) == "gas")


def _never(key: str, worked: Worked) -> Cell:
    """No row has it or said why: the newest row that could have answered says what is missing."""
    for row, answers in reversed(worked):
        if _speaks(key, row.kind):
            return _absence(answers[key], row.observed_at)
    return Cell(reason="no gas" if stale_band(key) == "gas" else "not charted")


def _absence(worked: WorkedOut, at: datetime) -> Cell:
    answer = worked.answer
    if isinstance(answer, NotAvailable):
        return Cell(
            reason=answer.reason, missing=answer.missing, applicable=answer.applicable, at=at
        )
    return Cell(reason=answer.reason if isinstance(answer, Query) else "", at=at)
