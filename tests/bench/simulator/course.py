"""Five days of one simulated patient, charted about eight times a day by a therapist who acts."""

from datetime import UTC, datetime, timedelta
from random import Random

from msgspec import Struct
from msgspec.structs import replace

from tests.bench.simulator.events import NOTHING, Event, Push
from tests.bench.simulator.kinds import Person, person
from tests.bench.simulator.pen import Chart
from tests.bench.simulator.truth import Body, Settings, Truth
from tests.bench.simulator.wards import STEADY, Ward

START = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)
DAYS = 5
HOURS = 24 * DAYS
EVERY_H, MISSED = 3.0, 0.04
ONSET_H = (48.0, 84.0)
LOW, HIGH = 90, 96
"""The SpO2 band of everybody here: 88 to 95 is ordered, the therapist aims a little inside."""


class Simulated(Struct, frozen=True):
    """One course: its rows as typed text with their times, and when the event began."""

    rows: tuple[tuple[datetime, dict[str, str]], ...]
    onset: datetime | None
    event: Event | None


def simulate(seed: int, noise: float, event: Event | None = None, ward: Ward = STEADY) -> Simulated:
    """The course of this seed; the same seed gives the same course."""
    rng = Random(seed)
    who = person(rng)
    body, chart, settings = Body(who, ward, rng), Chart(noise, rng, ward.wild), _begin(who)
    onset = rng.uniform(*ONSET_H)
    course = _Pushed(event, onset, ward, rng)
    rows, hour, eased = [], 0.0, 0.0
    while hour < HOURS:
        push = course.at(hour)
        given = _given(settings, push)
        truth = body.truth(given, push)
        typed = chart.row(truth, given, constant=who.constant_flow) | _about(who)
        if rng.random() >= MISSED:
            rows.append((START + timedelta(hours=hour), typed))
            settings, eased = _acts(settings, truth, typed, hour, eased, who, push)
            settings = _fidget(settings, ward, rng)
        step = max(0.5, rng.gauss(EVERY_H, 0.5))
        hour += step
        body.after(step)
    began = START + timedelta(hours=onset) if event is not None else None
    return Simulated(tuple(rows), began, event)


class _Pushed:
    """What the event of this course does at each hour: how strong it is here, and until when."""

    def __init__(self, event: Event | None, onset: float, ward: Ward, rng: Random) -> None:
        self._event, self._onset, self._until = event, onset, HOURS * 1.0
        self._strength = rng.uniform(ward.mildest, 1.0) if ward.mildest < 1 else 1.0
        if ward.treated_h is not None and event is not None and event.sudden:
            self._until = onset + rng.uniform(*ward.treated_h)

    def at(self, hour: float) -> Push:
        if self._event is None or not self._onset <= hour < self._until:
            return NOTHING
        return self._event.push(hour - self._onset).of_strength(self._strength)


def _given(settings: Settings, push: Push) -> Settings:
    return replace(
        settings,
        volume_ml=settings.volume_ml + push.ml,
        fio2=min(100.0, settings.fio2 + push.oxygen),
        peep=settings.peep + push.peep,
    )


def _fidget(settings: Settings, ward: Ward, rng: Random) -> Settings:
    """One step of one setting, for a reason that is not in the lung."""
    if not ward.fidgets or rng.random() >= ward.fidgets:
        return settings
    way = rng.choice((-1, 1))
    return rng.choice(
        (
            replace(settings, flow=min(80, max(40, settings.flow + 5 * way))),
            replace(settings, rate=min(30, max(10, settings.rate + 2 * way))),
            replace(settings, volume_ml=settings.volume_ml + 20 * way),
            replace(settings, peep=min(18.0, max(5.0, settings.peep + way))),
            replace(settings, fio2=min(100.0, max(21.0, settings.fio2 + 5 * way))),
        )
    )


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
    settings: Settings,
    truth: Truth,
    typed: dict[str, str],
    hour: float,
    eased: float,
    who: Person,
    push: Push,
) -> tuple[Settings, float]:
    """One change at a time, as small steps; no advice and no protocol (engineering judgement).

    Nobody lowers a volume in the hours in which it is being raised.
    """
    seen, fio2 = min(100, int(typed["spo2"])), settings.fio2
    plateau = typed.get("plateau_pressure_obs")
    if seen < LOW:
        more_peep = fio2 >= 60 and settings.peep < 16
        if more_peep:
            return replace(settings, peep=settings.peep + 2), hour
        return replace(settings, fio2=min(100.0, fio2 + 10)), hour
    if (
        plateau is not None
        and not push.ml
        and 30 < int(plateau) < 60
        and settings.volume_ml > 5 * who.weight
    ):
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
