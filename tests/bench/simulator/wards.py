"""Two simulated wards: a steady one, and a restless one whose people and hands differ more."""

from msgspec import Struct


class Ward(Struct, frozen=True):
    """How much wanders, how the chart errs, how often a setting is changed for no reason of the
    lung's, and how events differ: all engineering judgement, the restless figures on purpose
    beyond what quiet open charts show."""

    name: str
    memory_h: float
    compliance: float
    """SD of the logarithm over days; so the next two."""
    resistance: float
    shunt: float
    breaths: float
    """SD of the patient's own rate, breaths a minute."""
    wild: float = 0.0
    """Share of values whose noise is two and a half times as large: tails heavier than normal."""
    fidgets: float = 0.0
    """Share of checks at which flow, rate, volume, PEEP or oxygen is changed by one step."""
    mildest: float = 1.0
    """An event has between this share of its strength (on the logarithm) and all of it."""
    treated_h: tuple[float, float] | None = None
    """Hours after which a sudden event is over; None where it stays."""


STEADY = Ward("steady", 12.0, 0.06, 0.09, 0.12, 0.0)
RESTLESS = Ward(
    "restless", 20.0, 0.08, 0.13, 0.18, 1.2, 0.08, 0.06, mildest=0.75, treated_h=(8.0, 20.0)
)
WARDS = (STEADY, RESTLESS)
