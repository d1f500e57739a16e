"""Inhaled treatments as facts: what was ordered, each time it was given, when it was stopped."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from msgspec import Struct


class Given(Struct, frozen=True):
    """One time: given with what came of it, or not given and why."""

    id: str
    at: datetime
    author: str
    before: str = ""
    after: str = ""
    response: str = ""
    not_given: str = ""
    """Why it was left out; empty where it was given."""


class Treatment(Struct, frozen=True):
    """An order: a drug in words, its dose, by which route, how often.

    `interval_h` is None for as needed. `version_id` is the row that a stop supersedes.
    """

    id: str
    version_id: str
    drug: str
    dose: str
    route: str
    interval_h: Decimal | None
    ordered_by: str
    ordered_at: datetime
    author: str
    given: tuple[Given, ...] = ()
    stopped_at: datetime | None = None
    stopped_by: str = ""
    stopped_why: str = ""

    def due_at(self) -> datetime | None:
        """When it is due next: from the order on until it was given once; never as needed."""
        if self.interval_h is None or self.stopped_at is not None:
            return None
        if not self.given:
            return self.ordered_at
        return max(each.at for each in self.given) + timedelta(hours=float(self.interval_h))


def order_refused(
    drug: str,
    dose: str,
    route: str,
    interval_h: Decimal | None,
    ordered_by: str,
    *,
    as_needed: bool,
) -> Iterator[str]:
    """What an order lacks."""
    if not drug:
        yield "Write what was ordered."
    if not dose:
        yield "Write the dose."
    if not route:
        yield "Say by which route."
    if (interval_h is None) is not as_needed:
        yield "Write every how many hours, or say as needed: one of the two."
    if not ordered_by:
        yield "Say who ordered it."


def giving_refused(treatment: Treatment, at: datetime) -> Iterator[str]:
    """Why it cannot have been given then."""
    if at < treatment.ordered_at:
        yield f"{treatment.drug} had not been ordered by then."
    if treatment.stopped_at is not None and at >= treatment.stopped_at:
        yield f"{treatment.drug} had been stopped by then."


def stop_refused(treatment: Treatment, at: datetime) -> Iterator[str]:
    """Why it cannot have been stopped then."""
    if treatment.stopped_at is not None:
        yield f"{treatment.drug} has been stopped already."
    if at < treatment.ordered_at:
        yield f"{treatment.drug} had not been ordered by then."
    if any(each.at > at for each in treatment.given):
        yield f"{treatment.drug} was given after that time."
