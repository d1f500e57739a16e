"""The simulated patient: told courses of a lung, wandering around them, and what is so at an hour.

This is the truth that nobody at the bedside sees whole; `pen` turns it into what gets charted.
"""

import math
from random import Random

from msgspec import Struct, field

from seed_demo.blood import BloodGas, Exchange, alveolar_ventilation, blood_gas
from seed_demo.lung import Breath, Lung
from seed_demo.support import Effort, Support, breath_of, total_rate
from seed_demo.wander import Arc, LogWander, level

MEMORY_H = 9.0
"""Hours over which a lung's wandering forgets (engineering judgement)."""

PEEP_GAIN, PEEP_USUAL = 0.025, 8.0
"""Each cmH2O of PEEP over 8 opens a fortieth of the shunt (engineering judgement)."""

PRONE_GAIN = 0.75
"""Prone leaves three quarters of the shunt (engineering judgement)."""

SHUNT_LEAST, SHUNT_MOST = 0.02, 0.60
OPEN_BREATH = 0.42
"""Litres of a breath without a machine (typical adult; engineering judgement)."""


STILL = {
    "resistance": level(11),
    "shunt": level(0.10),
    "dead_space": level(0.45),
    "own_rate": level(1),
    "heart_rate": level(86),
    "mean_pressure": level(76),
    "temperature": level(37.2),
}
"""An adult under sedation for whom a story tells nothing else."""


class Condition(Struct, frozen=True):
    """The told course of one patient's lungs and blood.

    Compliance in mL/cmH2O, resistance in cmH2O/(L/s), shunt and dead space as shares, the patient's
    own rate per minute (at least 1), muscle pressure in cmH2O.
    """

    compliance: Arc
    resistance: Arc = STILL["resistance"]
    shunt: Arc = STILL["shunt"]
    dead_space: Arc = STILL["dead_space"]
    own_rate: Arc = STILL["own_rate"]
    muscle_pressure: float = 0.0
    co2_production: float = 200.0
    bicarbonate: float = 24.0
    hemoglobin: float = 9.8
    heart_rate: Arc = STILL["heart_rate"]
    mean_pressure: Arc = STILL["mean_pressure"]
    temperature: Arc = STILL["temperature"]
    spread: float = 0.05
    """SD of ln compliance, resistance and shunt around the told course."""


class Truth(Struct, frozen=True):
    """What is so at one moment: a breath (None without a machine), rate, blood, circulation."""

    breath: Breath | None
    rate: float
    triggered: bool
    """Whether the patient adds breaths to the set ones."""
    gas: BloodGas
    end_tidal: float
    heart_rate: float
    mean_pressure: float
    temperature: float


class Patient(Struct):
    """One patient on the way through time."""

    condition: Condition
    rng: Random
    _hour: float | None = None
    _wander: dict[str, LogWander] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name in ("compliance", "resistance", "shunt"):
            self._wander[name] = LogWander(self.condition.spread, MEMORY_H, self.rng)

    def truth(self, hour: float, support: Support, *, prone: bool = False) -> Truth:
        """What is so at that hour (0 is now) on that support; hours never run backwards."""
        self._forward(hour)
        told, lung = self.condition, self._lung(hour)
        effort = Effort(told.own_rate.at(hour), told.muscle_pressure)
        breath = breath_of(support, lung, effort)
        rate = total_rate(support, effort)
        volume = breath.volume if breath else OPEN_BREATH
        gas = blood_gas(
            self._exchange(hour, support, prone=prone),
            support.number("fio2_set", 21),
            alveolar_ventilation(volume, rate, told.dead_space.at(hour)),
        )
        return Truth(
            breath=breath,
            rate=rate,
            triggered=effort.rate - support.number("resp_rate_set") >= 1,
            gas=gas,
            end_tidal=gas.paco2 * (1 - _unperfused(told.dead_space.at(hour))),
            heart_rate=told.heart_rate.at(hour),
            mean_pressure=told.mean_pressure.at(hour),
            temperature=told.temperature.at(hour),
        )

    def _forward(self, hour: float) -> None:
        if self._hour is not None and hour < self._hour:
            raise ValueError("the simulated patient cannot go back in time")
        passed = 0.0 if self._hour is None else hour - self._hour
        self._hour = hour
        for wander in self._wander.values():
            wander.forward(passed)

    def _lung(self, hour: float) -> Lung:
        compliance = self.condition.compliance.at(hour) * self._wander["compliance"].factor
        resistance = self.condition.resistance.at(hour) * self._wander["resistance"].factor
        return Lung(compliance / 1000, resistance)

    def _exchange(self, hour: float, support: Support, *, prone: bool) -> Exchange:
        told = self.condition
        opened = math.exp(-PEEP_GAIN * (support.number("peep_set") - PEEP_USUAL))
        shunt = told.shunt.at(hour) * self._wander["shunt"].factor * opened
        shunt *= PRONE_GAIN if prone else 1.0
        return Exchange(
            shunt=min(SHUNT_MOST, max(SHUNT_LEAST, shunt)),
            dead_space=told.dead_space.at(hour),
            co2_production=told.co2_production,
            bicarbonate=told.bicarbonate,
            hemoglobin=told.hemoglobin,
        )


ANATOMICAL = 0.30
"""Share of a breath that fills the airways: it dilutes nothing at the end of expiration (textbook:
about a third)."""


LAST_GAS = 0.6
"""The last gas of a breath comes from the better perfused units: so much of the thinning shows
(engineering judgement)."""


def _unperfused(dead_space: float) -> float:
    """The share of end-tidal gas that met no blood: it thins the CO2."""
    return LAST_GAS * max(0.0, (dead_space - ANATOMICAL) / (1 - ANATOMICAL))
