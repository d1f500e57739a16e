"""Write down what was ordered for a patient, by whom and when; the newest order holds."""

from collections.abc import Iterator
from datetime import datetime

from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import is_to_come
from app.charting.facts import BANDS, Targets
from app.record.courses import course_facts
from app.record.tables import TargetRow
from app.record.writing import Writing

BAND_WORDS = {"spo2": "SpO2", "pao2": "PaO2", "ph": "pH", "paco2": "PaCO2"}


class NewOrder(Targets, frozen=True, kw_only=True):
    """Every target as ordered from then on: what is left empty is not ordered any more."""

    ordered_by: str
    ordered_at: datetime


class OrderRefused(ActRefused):
    """The order, or its end, cannot be kept so."""


def order_targets(writing: Writing, course_id: str, order: NewOrder, *, save_key: str = "") -> str:
    """Keep the order and bring the board up to it; returns its id.

    Raises OrderRefused, KeyReused for a key that came with other content, and NotFound.
    """
    if not order.says_something:
        raise OrderRefused("Write at least one target, or end the order.")
    return _write(writing, course_id, order, save_key)


def end_order(writing: Writing, course_id: str, order: NewOrder, *, save_key: str = "") -> str:
    """Write that no target is ordered any more, with who said so and why.

    Raises OrderRefused where none is in force or no reason was given, KeyReused, and NotFound.
    """
    ended = NewOrder(ordered_by=order.ordered_by, ordered_at=order.ordered_at, why=order.why)
    if not ended.why.strip():
        raise OrderRefused("Say why the order ended.")
    if not course_facts(writing.session, course_id).targets.says_something:
        raise OrderRefused("No target is ordered, so there is none to end.")
    return _write(writing, course_id, ended, save_key)


def _write(writing: Writing, course_id: str, order: NewOrder, save_key: str) -> str:
    content = asdict(order)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    if facts.ended_at is not None:
        raise OrderRefused("This course has ended.")
    row = order_row(course_id, order, writing.recorded_at)
    writing.add_as("order_targets", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def order_row(course_id: str, order: NewOrder, now: datetime) -> TargetRow:
    """The order as a row. Raises OrderRefused."""
    for sentence in _refused(order, now):
        raise OrderRefused(sentence)
    return TargetRow(course_id=course_id, **asdict(order))


def _refused(order: NewOrder, now: datetime) -> Iterator[str]:
    if not order.ordered_by.strip():
        yield "Say who ordered it."
    if is_to_come(order.ordered_at, now):
        yield "The time of the order is still to come."
    for band in BANDS:
        low, high = getattr(order, f"{band}_low"), getattr(order, f"{band}_high")
        if (low is None) is not (high is None):
            yield f"{BAND_WORDS[band]}: write both ends of the band."
        elif low is not None and low >= high:
            yield f"{BAND_WORDS[band]}: the lower end has to be under the upper one."
