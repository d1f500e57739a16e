"""Coming off invasive support: a tube that came out, on purpose or not, and one that went back in.

The kinds of events by which it is told, what each of them refuses, and what can be read off the
airway's rows alone.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime, timedelta

from msgspec import Struct

from app.charting.after_tube import AFTER_TUBE
from app.charting.airways import REMOVED, UNPLANNED_WORD, has_tube
from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS
from app.charting.facts import Airway
from app.charting.fields.liberation import OF_A_DECANNULATION, OF_AN_EXTUBATION

UNPLANNED = "unplanned_extubation"
"""A tube that came out by itself, by the patient or by accident."""
EXTUBATION, DECANNULATION, REINTUBATION = "extubation", "decannulation", "reintubation"

BREATHES, HOW, AGAIN = "tube_out_breathes", "tube_out_how", "tube_out_again"
OPEN_AFTER = {
    BREATHES: "Tube out unplanned: what the patient breathes now",
    HOW: "Tube out unplanned: how it came out",
    AGAIN: "Tube out unplanned: re-intubated or not",
}
"""What is told later of a tube that came out unplanned, by the rule of the task it leaves."""

CHECKLISTS: Mapping[str, tuple[str, ...]] = {
    EXTUBATION: OF_AN_EXTUBATION,
    DECANNULATION: OF_A_DECANNULATION,
}


class Reintubation(Struct, frozen=True):
    """A tube that went in after another had come out."""

    out_at: datetime
    in_at: datetime
    unplanned: bool

    @property
    def interval(self) -> timedelta:
        """How long there was no tube."""
        return self.in_at - self.out_at


def reintubations(airways: Sequence[Airway]) -> tuple[Reintubation, ...]:
    """Each tube that was placed after one had been removed, oldest first."""
    found: list[Reintubation] = []
    out: Airway | None = None
    for airway in airways:
        if airway.act == REMOVED:
            out = airway
        elif out is not None and has_tube(airway):
            unplanned = out.words.startswith(UNPLANNED_WORD)
            found.append(Reintubation(out.observed_at, airway.observed_at, unplanned))
            out = None
    return tuple(found)


def interval_words(interval: timedelta) -> str:
    """ "35 min", "14 h", "14 h 05 min"; days from the third on."""
    minutes = int(interval.total_seconds()) // 60
    hours, rest = divmod(minutes, 60)
    if hours >= 72:
        return f"{hours // 24} days"
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"


def reintubation_words(again: Reintubation) -> str:
    """ "14 h after extubation"."""
    out = "the tube came out unplanned" if again.unplanned else "extubation"
    return f"{interval_words(again.interval)} after {out}"


def removal_refused(act: str, before: Airway | None) -> Iterator[str]:
    """Why the airway in place cannot be taken out in this way."""
    is_trach = before is not None and before.category == "trach"
    if act == DECANNULATION and (before is None or not has_tube(before) or not is_trach):
        yield "No tracheostomy tube is in place, so there is nothing to decannulate."
    elif before is None or not has_tube(before):
        by = f": {before.author} recorded its removal" if before and before.act == REMOVED else ""
        yield f"No tube is in place{by}. A patient is extubated once."
    elif act == EXTUBATION and is_trach:
        yield "A tracheostomy is in place: record a decannulation."


def details_refused(act: str, details: Mapping[str, str]) -> Iterator[str]:
    """What is missing of what is told with a removal."""
    if details.get("breathes_now", "") not in AFTER_TUBE:
        yield "Say what the patient breathes now."
    tested = details.get("cuff_leak_ml") or details.get("cuff_leak_percent")
    why_not = details.get("cuff_leak_not_done")
    if act == EXTUBATION and not tested and not why_not:
        yield "Write the cuff leak, or why it was not tested."
    if tested and why_not:
        yield "The cuff leak has a value, so it was tested: leave the reason empty."


def told_in_short(act: str, details: Mapping[str, str]) -> str:
    """The removal in one line: what is breathed now, the leak, and what the checklist lacks."""
    return "; ".join(_told(act, details))


def _told(act: str, details: Mapping[str, str]) -> Iterator[str]:
    now = AFTER_TUBE.get(details.get("breathes_now", ""))
    if now is not None:
        yield f"now {now.label[0].lower()}{now.label[1:]}"
    ml, percent = details.get("cuff_leak_ml"), details.get("cuff_leak_percent")
    if ml or percent:
        leak = ", ".join(f"{n} {u}" for n, u in ((ml, "mL"), (percent, "%")) if n)
        yield f"cuff leak {leak}"
    elif details.get("cuff_leak_not_done"):
        yield f"cuff leak not tested: {details['cuff_leak_not_done']}"
    if details.get("stridor") == "yes":
        yield "stridor"
    answered = [details[code] for code in CHECKLISTS[act] if details.get(code)]
    if len(answered) < len(CHECKLISTS[act]):
        yield f"checklist: {len(answered)} of {len(CHECKLISTS[act])} answered"
    if "no" in answered:
        yield f"checklist: {answered.count('no')} answered no"


def own_words(event: Event) -> str:
    """What a person said of an event, without the kind's label in front of it."""
    kind = EVENT_KINDS.get(event.kind)
    if kind is None:
        return event.words
    return event.words.removeprefix(kind.label).removeprefix(": ")
