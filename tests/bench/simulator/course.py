"""Five days of one simulated patient, charted about eight times a day by a therapist who acts."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from random import Random

from tests.bench.simulator.events import NOTHING, Event
from tests.bench.simulator.kinds import Person, person
from tests.bench.simulator.pen import Chart
from tests.bench.simulator.truth import Body, Settings, Truth

START = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)
DAYS = 5
HOURS = 24 * DAYS
EVERY_H, MISSED = 3.0, 0.04
ONSET_H = (48.0, 84.0)
LOW, HIGH = 90, 96
"""The SpO2 band of everybody here: 88 to 95 is ordered, the therapist aims a little inside."""


@dataclass(frozen=True, slots=True)
class Simulated:
    """One course: its rows as typed text with their times, and when the event began."""

    rows: tuple[tuple[datetime, dict[str, str]], ...]
    onset: datetime | None
    event: Event | None


def simulate(seed: int, noise: float, event: Event | None = None) -> Simulated:
    """The course of this seed; the same seed gives the same course."""
    rng = Random(seed)
    who = person(rng)
    body, chart, settings = Body(who, rng), Chart(noise, rng), _begin(who)
    onset = rng.uniform(*ONSET_H)
    rows, hour, eased = [], 0.0, 0.0
    while hour < HOURS:
        push = event.push(hour - onset) if event is not None and hour >= onset else NOTHING
        given = replace(settings, volume_ml=settings.volume_ml + push.ml)
        truth = body.truth(given, push)
        typed = chart.row(truth, given, constant=who.constant_flow) | _about(who)
        if rng.random() >= MISSED:
            rows.append((START + timedelta(hours=hour), typed))
            settings, eased = _acts(settings, truth, typed, hour, eased, who)
        step = max(0.5, rng.gauss(EVERY_H, 0.5))
        hour += step
        body.after(step)
    began = START + timedelta(hours=onset) if event is not None else None
    return Simulated(tuple(rows), began, event)


def _begin(who: Person) -> Settings:
    volume = 10 * round(who.kind.ml_per_kg * who.weight / 10)
    return Settings(volume, who.kind.rate, who.kind.peep, who.kind.fio2, who.kind.flow)


def _about(who: Person) -> dict[str, str]:
    return {
        "height_cm": f"{who.height_cm}",
        "pbw_sex": who.sex,
        "spo2_target_low": "88",
        "spo2_target_high": "96",
    }


def _acts(
    settings: Settings, truth: Truth, typed: dict[str, str], hour: float, eased: float, who: Person
) -> tuple[Settings, float]:
    """One change at a time, as small steps; no advice and no protocol (engineering judgement)."""
    seen, fio2 = min(100, int(typed["spo2"])), settings.fio2
    plateau = typed.get("plateau_pressure_obs")
    if seen < LOW:
        more_peep = fio2 >= 60 and settings.peep < 16
        if more_peep:
            return replace(settings, peep=settings.peep + 2), hour
        return replace(settings, fio2=min(100.0, fio2 + 10)), hour
    if plateau is not None and 30 < int(plateau) < 60 and settings.volume_ml > 5 * who.weight:
        return replace(settings, volume_ml=settings.volume_ml - 20), eased
    if truth.paco2 > 58 and settings.rate < 30:
        return replace(settings, rate=settings.rate + 2), eased
    if truth.paco2 < 32 and settings.rate > 12:
        return replace(settings, rate=settings.rate - 2), eased
    if seen > HIGH and hour - eased >= 4:
        if fio2 > 30:
            return replace(settings, fio2=fio2 - 5), hour
        if settings.peep > 5 and hour - eased >= 12:
            return replace(settings, peep=settings.peep - 1), hour
    return settings, eased
