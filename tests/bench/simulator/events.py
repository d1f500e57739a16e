"""What may happen to a simulated patient: eight events, each a factor that grows from its onset."""

from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace


class Push(Struct, frozen=True):
    """What an event does at a moment: factors on the lung, a share lost, breaths, and what people
    add to the settings (mL, percentage points of oxygen, cmH2O of PEEP)."""

    compliance: float = 1.0
    resistance: float = 1.0
    shunt: float = 1.0
    lost: float = 0.0
    breaths: float = 0.0
    ml: float = 0.0
    oxygen: float = 0.0
    peep: float = 0.0

    def of_strength(self, share: float) -> "Push":
        """The same, milder: factors by their logarithm; steps of settings stay what they are."""
        return replace(
            self,
            compliance=self.compliance**share,
            resistance=self.resistance**share,
            shunt=self.shunt**share,
            lost=self.lost * share,
            breaths=self.breaths * share,
        )


class Event(Struct, frozen=True):
    """One event: its groups are those in which a flag counts as finding it."""

    name: str
    groups: frozenset[str]
    push: Callable[[float], Push]
    """From hours since the onset."""
    words: str
    """What is simulated, in words of what is charted (decision 35)."""
    sudden: bool = False
    """Whether it is there at once or within two hours, and can be treated within the day."""


def _grown(hours: float, over: float) -> float:
    return min(1.0, max(0.0, hours / over))


AT_ONCE_H = 0.1
"""Hours that a sudden event takes."""


NOTHING = Push()


def _oedema(hours: float) -> Push:
    share = _grown(hours, 24)
    return Push(compliance=0.62**share, shunt=2.0**share)


def _derecruitment(hours: float) -> Push:
    share = _grown(hours, AT_ONCE_H)
    return Push(compliance=0.80**share, shunt=1.3**share)


def _pneumothorax(hours: float) -> Push:
    share = _grown(hours, AT_ONCE_H)
    return Push(compliance=0.60**share, shunt=1.25**share)


def _plug(hours: float) -> Push:
    share = _grown(hours, AT_ONCE_H)
    return Push(compliance=0.72**share, resistance=2.2**share, shunt=1.4**share)


def _bronchospasm(hours: float) -> Push:
    return Push(resistance=1.9 ** _grown(hours, 2))


def _leak(hours: float) -> Push:
    return Push(lost=0.30 * _grown(hours, 12))


def _lighter(hours: float) -> Push:
    return Push(breaths=9 * _grown(hours, 1))


def _creep(hours: float) -> Push:
    steps = int(max(0.0, hours) // 4) + 1 if hours >= 0 else 0
    return Push(ml=30.0 * min(steps, 8))


def _slide(hours: float) -> Push:
    share = _grown(hours, 36)
    steps = int(4 * share)
    return Push(compliance=0.80**share, shunt=1.6**share, oxygen=5.0 * steps, peep=1.0 * steps)


_LUNG = frozenset({"mechanics", "oxygenation"})

EVENTS = (
    Event(
        "lung oedema over 24 h",
        _LUNG,
        _oedema,
        "compliance falls by 38 % and the shunt doubles over 24 h",
    ),
    Event(
        "de-recruitment, 20 % step",
        _LUNG,
        _derecruitment,
        "compliance falls by 20 % at once, the shunt grows by 30 %",
        sudden=True,
    ),
    Event(
        "pneumothorax",
        frozenset({"mechanics", "airway"}),
        _pneumothorax,
        "compliance falls by 40 % at once",
        sudden=True,
    ),
    Event(
        "mucus plug",
        frozenset({"airway", "mechanics", "oxygenation"}),
        _plug,
        "resistance more than doubles and compliance falls by 28 % at once",
        sudden=True,
    ),
    Event(
        "bronchospasm",
        frozenset({"airway", "mechanics"}),
        _bronchospasm,
        "resistance grows by 90 % within 2 h",
        sudden=True,
    ),
    Event(
        "cuff leak over 12 h",
        frozenset({"leak"}),
        _leak,
        "the expired volume falls by 30 % over 12 h",
    ),
    Event(
        "lighter sedation, 9 breaths",
        frozenset({"drive"}),
        _lighter,
        "the patient breathes 9 times more a minute within 1 h",
    ),
    Event(
        "volume creep, 30 mL steps",
        frozenset({"volume"}),
        _creep,
        "the set volume is raised by 30 mL every 4 h",
    ),
    Event(
        "slow slide over 36 h",
        _LUNG,
        _slide,
        "oxygen goes up by 5 points and PEEP by 1 every 9 h, compliance falls by 20 % over 36 h",
    ),
)
