"""An airway in words: what was done, which tube, where it lies, how that was confirmed."""

from collections.abc import Iterator
from decimal import Decimal

from app.charting.airways import ACT_WORDS, REMOVED
from app.charting.facts import Airway
from app.charting.fields import FIELDS
from app.charting.fields.intake import ASKED_ONCE
from app.charting.shown import shown

HOW = {"co2": "CO2 waveform", "ears": "heard on both sides", "image": "image read"}


def tube(airway: Airway) -> str:
    """The tube with its size: "Oral tube 7.5 mm"."""
    label = FIELDS["airway_category"].label_of(airway.category)
    if airway.size_mm is None:
        return label
    return f"{label} {shown(FIELDS['airway_size_mm'], airway.size_mm)} mm"


def depth(airway: Airway) -> str:
    """The depth with its mark: "22 cm at the lip"; empty where none is known."""
    return "" if airway.depth_cm is None else depth_at(airway.depth_cm, airway.depth_reference)


def depth_at(cm: Decimal, reference: str) -> str:
    """A depth with its mark, which makes it comparable: "22 cm at the lip"."""
    return f"{shown(FIELDS['airway_depth_cm'], cm)} cm{at_mark(reference)}"


def at_mark(reference: str) -> str:
    """ " at the lip" behind a depth; ", mark not stated" where nobody said at what it was read."""
    mark = FIELDS["airway_depth_reference"].label_of(reference).lower()
    return f" at the {mark}" if mark else ", mark not stated"


def line(airway: Airway, before: Airway | None) -> str:
    """One row of the airway's history, with what it was before where that changed."""
    act = ACT_WORDS.get(airway.act, airway.act)
    if airway.act == REMOVED:
        act = f"{act} ({airway.words})" if airway.words else act
        was = f"{tube(before)} out" if before is not None else "the tube"
        return f"{act}: {was}"
    return f"{act}: {', '.join(filter(None, _parts(airway, before)))}"


def _parts(airway: Airway, before: Airway | None) -> Iterator[str]:
    was_tube, was_depth = (tube(before), depth(before)) if before else ("", "")
    yield _moved(tube(airway), was_tube if airway.act != "placed" else "")
    yield airway.tube_type
    yield _moved(depth(airway), was_depth if airway.act == "repositioned" else "")
    yield FIELDS["airway_side"].label_of(airway.side).lower()
    if airway.difficult not in ("", "no"):
        yield "difficult"
    if airway.confirmed_how or airway.confirmed_by:
        how = ", ".join(HOW[code] for code in airway.confirmed_how.split() if code in HOW)
        yield f"confirmed by {airway.confirmed_by or 'nobody named'} ({how or 'how not stated'})"
    yield from stoma(airway)
    yield airway.words


def _moved(now: str, was: str) -> str:
    return f"{was} → {now}" if was and was != now else now


def stoma(airway: Airway) -> Iterator[str]:
    """What is said of a tracheostomy: since when, inner cannula, spares, who may change it."""
    if airway.stoma_on is not None:
        yield f"made on {airway.stoma_on.isoformat()}"
    for code in ("inner_cannula", "spare_same", "spare_smaller"):
        said = getattr(airway, code)
        if said:
            yield f"{ASKED_ONCE[code].label.lower()}: {said}"
    if airway.may_change:
        yield f"may be changed by {airway.may_change}"
