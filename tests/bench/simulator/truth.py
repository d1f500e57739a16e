"""What is so at a moment in a simulated lung: pressures, rate, saturation, carbon dioxide.

One compartment (seed_demo.lung) and shunt, dead space and Severinghaus's curve (seed_demo.blood);
around each figure wanders an Ornstein–Uhlenbeck process of its logarithm.
"""

import math
from random import Random

from msgspec import Struct

from seed_demo.blood import Exchange, alveolar_ventilation, blood_gas
from seed_demo.lung import Breath, Lung, volume_breath
from seed_demo.wander import LogWander
from tests.bench.simulator.events import Push
from tests.bench.simulator.kinds import Person
from tests.bench.simulator.wards import Ward

PEEP_OPENS = 0.025
"""Each cmH2O of PEEP over the usual one opens a fortieth of the shunt (engineering judgement)."""


class Settings(Struct):
    """What the machine is told."""

    volume_ml: float
    rate: int
    peep: float
    fio2: float
    flow: int


class Truth(Struct, frozen=True):
    """What is so."""

    breath: Breath
    rate: float
    saturation: float
    paco2: float
    ph: float
    expired_ml: float


class Body:
    """One person's lung on its way through time."""

    def __init__(self, person: Person, ward: Ward, rng: Random) -> None:
        self._person = person
        spreads = {name: getattr(ward, name) for name in ("compliance", "resistance", "shunt")}
        self._wander = {name: LogWander(sd, ward.memory_h, rng) for name, sd in spreads.items()}
        self._breaths = ward.breaths
        self._rng = rng

    def after(self, hours: float) -> None:
        """Let time pass."""
        for wander in self._wander.values():
            wander.forward(hours)

    def truth(self, settings: Settings, push: Push) -> Truth:
        """What these settings do to this lung now."""
        person = self._person
        lung = Lung(
            person.compliance * self._wander["compliance"].factor * push.compliance / 1000,
            person.resistance * self._wander["resistance"].factor * push.resistance,
        )
        own = person.kind.rate + person.own_breaths + push.breaths
        if self._breaths:
            own += self._rng.gauss(0, self._breaths)
        rate = max(settings.rate, own) if own > person.kind.rate else settings.rate
        litres = settings.volume_ml / 1000
        breath = volume_breath(lung, litres, settings.flow / 60, rate, settings.peep)
        opened = math.exp(-PEEP_OPENS * (settings.peep - person.kind.peep))
        shunt = person.shunt * self._wander["shunt"].factor * push.shunt * opened
        exchange = Exchange(min(0.6, max(0.02, shunt)), person.kind.dead_space, 200.0, 24.0, 10.0)
        air = alveolar_ventilation(litres, rate, person.kind.dead_space)
        gas = blood_gas(exchange, settings.fio2, air)
        expired = settings.volume_ml * (1 - push.lost)
        return Truth(breath, rate, gas.saturation, gas.paco2, gas.ph, expired)
