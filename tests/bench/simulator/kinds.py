"""Seven kinds of patient: typical adult figures (textbook, from memory), spread between people."""

from random import Random

from msgspec import Struct


class Kind(Struct, frozen=True):
    """Medians of one kind: compliance mL/cmH2O, resistance cmH2O/(L/s), shares, settings."""

    name: str
    compliance: float
    resistance: float
    shunt: float
    dead_space: float
    peep: float
    fio2: float
    rate: int
    ml_per_kg: float
    flow: int = 60


KINDS = (
    Kind("mild ARDS", 44, 11, 0.14, 0.48, 8, 40, 20, 6.4),
    Kind("moderate ARDS", 36, 12, 0.22, 0.52, 10, 50, 22, 6.2),
    Kind("severe ARDS", 28, 13, 0.32, 0.56, 14, 65, 24, 6.0),
    Kind("obstructive", 54, 20, 0.08, 0.55, 5, 35, 14, 7.0),
    Kind("post-operative", 50, 10, 0.08, 0.40, 6, 35, 16, 7.4),
    Kind("neuromuscular", 54, 9, 0.06, 0.40, 6, 30, 16, 7.6),
    Kind("obese", 42, 12, 0.16, 0.45, 12, 45, 20, 6.6),
)


class Person(Struct):
    """One person of a kind: body, lung and how easily the breath is triggered."""

    kind: Kind
    height_cm: int
    sex: str
    compliance: float
    resistance: float
    shunt: float
    own_breaths: float
    constant_flow: bool

    @property
    def weight(self) -> float:
        """Predicted weight, kg (decision 2)."""
        return (50.0 if self.sex == "M" else 45.5) + 0.91 * (self.height_cm - 152.4)


def person(rng: Random) -> Person:
    """Draw one; people of one kind differ by about an eighth (engineering judgement)."""
    kind, sex = rng.choice(KINDS), rng.choice("MF")
    height = round(rng.gauss(176 if sex == "M" else 163, 7))
    weight = (50.0 if sex == "M" else 45.5) + 0.91 * (height - 152.4)
    size = weight / 64
    return Person(
        kind,
        height,
        sex,
        kind.compliance * size * rng.lognormvariate(0, 0.12),
        kind.resistance * rng.lognormvariate(0, 0.12),
        kind.shunt * rng.lognormvariate(0, 0.15),
        rng.choice((0.0, 0.0, 0.0, 2.0, 3.0)),
        rng.random() < 0.9,
    )
