"""What may happen to a simulated patient: eight events, each a factor that grows from its onset."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Push:
    """What an event does at a moment: factors on the lung, a share lost, breaths and mL added."""

    compliance: float = 1.0
    resistance: float = 1.0
    shunt: float = 1.0
    lost: float = 0.0
    breaths: float = 0.0
    ml: float = 0.0


@dataclass(frozen=True, slots=True)
class Event:
    """One event: its groups are those in which a flag counts as finding it."""

    name: str
    groups: frozenset[str]
    push: Callable[[float], Push]
    """From hours since the onset."""


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


EVENTS = (
    Event("lung oedema over 24 h", frozenset({"mechanics", "oxygenation"}), _oedema),
    Event("de-recruitment, 20 % step", frozenset({"mechanics", "oxygenation"}), _derecruitment),
    Event("pneumothorax", frozenset({"mechanics", "airway"}), _pneumothorax),
    Event("mucus plug", frozenset({"airway", "mechanics", "oxygenation"}), _plug),
    Event("bronchospasm", frozenset({"airway", "mechanics"}), _bronchospasm),
    Event("cuff leak over 12 h", frozenset({"leak"}), _leak),
    Event("lighter sedation, 9 breaths", frozenset({"drive"}), _lighter),
    Event("volume creep, 30 mL steps", frozenset({"volume"}), _creep),
)
