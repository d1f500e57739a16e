"""What else can be done for a patient from the bed page: one line for each, in one place.

To offer another act, add its entry here; the bed page draws it and its route asks for the role.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass

from app.charting.airways import has_tube
from app.charting.facts import CourseFacts
from app.pages.frame import NavLink


def _while_open(facts: CourseFacts) -> bool:
    return facts.ended_at is None


def _always(_facts: CourseFacts) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class BedAct:
    """One act: its label, its address under the course, and the permission that it needs.

    `act` is the name of a permission (`CHART`, `PLACE`); `when` says for which courses it is
    offered, an open one unless told otherwise.
    """

    label: str
    path: str
    act: str
    when: Callable[[CourseFacts], bool] = _while_open


BED_ACTS: tuple[BedAct, ...] = (
    BedAct("Event", "events", "CHART"),
    BedAct("Prone, transport, trials", "episodes", "CHART"),
    BedAct("Airway", "airway", "CHART"),
    BedAct("Extubation, time off", "liberation", "CHART"),
    BedAct("Inhaled treatments", "treatments", "CHART"),
    BedAct("Ordered targets", "targets", "CHART"),
    BedAct("Own ranges", "own-ranges", "CHART"),
    BedAct("Machine and gear", "machine", "CHART"),
    BedAct("Who this is", "who", "PLACE"),
    BedAct("Check from paper", "assess?paper=1", "CHART"),
    BedAct("Move or close", "place", "PLACE", when=_always),
    BedAct("Quiet view", "quiet", "PLACE"),
    BedAct("Trends", "trends", "READ_PATIENTS", when=_always),
    BedAct("Timeline", "timeline", "READ_PATIENTS", when=_always),
    BedAct("As it was known", "then", "READ_PATIENTS", when=_always),
)


def bed_acts(facts: CourseFacts, allowed: Collection[str]) -> tuple[NavLink, ...]:
    """The acts that this viewer can do for this course, as links; `allowed` are permissions."""
    base = f"/courses/{facts.course_id}"
    return tuple(
        NavLink(act.label, f"{base}/{act.path}")
        for act in BED_ACTS
        if act.act in allowed and act.when(facts)
    )


def tube_out_href(facts: CourseFacts) -> str:
    """Where one press records that the tube came out; empty without a tube, or after the end."""
    airway = facts.airways[-1] if facts.airways else None
    is_open = facts.ended_at is None and has_tube(airway)
    return f"/courses/{facts.course_id}/tube-out" if is_open else ""
