"""Coming off invasive support: a tube that came out, on purpose or not, and one that went back in.

The kinds of events by which it is told, and what can be read off the airway's rows alone.
"""

from app.charting.events import EVENT_KINDS
from app.charting.facts import Event

UNPLANNED = "unplanned_extubation"
"""A tube that came out by itself, by the patient or by accident."""

OPEN_AFTER = {
    "tube_out_breathes": "Tube out unplanned: what the patient breathes now",
    "tube_out_why": "Tube out unplanned: how it came out",
    "tube_out_again": "Tube out unplanned: re-intubated or not",
}
"""What is told later of a tube that came out unplanned, by the rule of the task it leaves."""


def own_words(event: Event) -> str:
    """What a person said of an event, without the kind's label in front of it."""
    kind = EVENT_KINDS.get(event.kind)
    if kind is None:
        return event.words
    return event.words.removeprefix(kind.label).removeprefix(": ")
