"""What can happen at a bed and be charted by itself: a short list, said once.

An event either happens at one moment or lasts until somebody charts its end. What lasts has the
codes that rules look for: while a patient is away nothing is due (decision 31), and mechanics in
prone are not compared with supine. The list is common practice.
"""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec import Struct

LONGEST_WORDS = 140

COMFORT = "comfort"
"""Support withdrawn or comfort care: limits, flags and due items are muted while it lasts."""


class EventKind(Struct, frozen=True):
    """One kind of event. `ends` is what its end is called; empty for what has none."""

    code: str
    label: str
    ends: str = ""
    own_page: bool = False
    """Whether it is begun and ended on a page of its own, and not in the list of events:
    its line alone says too little."""

    @property
    def lasts(self) -> bool:
        """Whether it goes on until its end is charted."""
        return self.ends != ""


_KINDS: tuple[EventKind, ...] = (
    EventKind("suction", "Suction"),
    EventKind("position_change", "Position changed"),
    EventKind("disconnection", "Disconnected"),
    EventKind("desaturation", "Desaturation"),
    EventKind("away", "Transport, away from the unit", "Back from transport"),
    EventKind("standby", "On standby or disconnected", "Back on the machine"),
    EventKind("prone", "Turned prone", "Turned supine"),
    EventKind("trial_screen", "Screened for a breathing trial", own_page=True),
    EventKind("breathing_trial", "Breathing trial", "Breathing trial ended", own_page=True),
    EventKind("recruitment", "Recruitment manoeuvre"),
    EventKind("bronchoscopy", "Bronchoscopy"),
    EventKind("nitric_oxide", "Inhaled nitric oxide begun", "Inhaled nitric oxide ended"),
    EventKind("ecmo", "Extracorporeal support begun", "Extracorporeal support ended"),
    EventKind("circuit_change", "Circuit or filter changed"),
    EventKind("device_change", "Ventilator changed"),
    EventKind("unplanned_extubation", "Unplanned extubation"),
    EventKind("extubation", "Extubated", own_page=True),
    EventKind("decannulation", "Decannulated", own_page=True),
    EventKind("reintubation", "Re-intubated", own_page=True),
    EventKind("off_ventilator", "Off the ventilator", "Back on the ventilator", own_page=True),
    EventKind("chest_drain_leak", "Leak through a chest drain", "Chest drain no longer leaks"),
    EventKind("arrest", "Cardiac arrest"),
    EventKind(COMFORT, "Support withdrawn, comfort", "Quiet view ended", own_page=True),
    EventKind("other", "Something else"),
)

EVENT_KINDS: Mapping[str, EventKind] = MappingProxyType({kind.code: kind for kind in _KINDS})
"""Code to kind, the commonest first."""


def event_words(kind: EventKind, typed: str, *, ended: bool = False) -> str:
    """The line that stands in the record: what happened, and a person's words behind it."""
    label = kind.ends if ended else kind.label
    if not typed:
        return label
    return typed if kind.code == "other" else f"{label}: {typed}"
