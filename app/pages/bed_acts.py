"""What else can be done for a patient from the bed page: one line for each, in one place.

To offer another act, add its entry here; the bed page draws it and its route asks for the role.
"""

from collections.abc import Callable, Collection

from msgspec import Struct

from app.charting.airways import has_tube
from app.charting.facts import CourseFacts
from app.pages.frame import NavLink


def _while_open(facts: CourseFacts) -> bool:
    return facts.ended_at is None


def _always(_facts: CourseFacts) -> bool:
    return True


class BedAct(Struct, frozen=True):
    """One act: its label, its address under the course, and the permission that it needs.

    `act` is the name of a permission (`CHART`, `PLACE`); `when` says for which courses it is
    offered, an open one unless told otherwise. `group` is what it is for.
    """

    label: str
    path: str
    act: str
    group: str
    when: Callable[[CourseFacts], bool] = _while_open


GROUPS = CHART_IT, ARRANGE, LOOK = "Chart", "Arrange", "Look back"

BED_ACTS: tuple[BedAct, ...] = (
    BedAct("Event", "events", "CHART", CHART_IT),
    BedAct("Prone, transport, trials", "episodes", "CHART", CHART_IT),
    BedAct("Airway", "airway", "CHART", CHART_IT),
    BedAct("Extubation, time off", "liberation", "CHART", CHART_IT),
    BedAct("Inhaled treatments", "treatments", "CHART", CHART_IT),
    BedAct("Ordered targets", "targets", "CHART", ARRANGE),
    BedAct("Own ranges", "own-ranges", "CHART", ARRANGE),
    BedAct("Machine and gear", "machine", "CHART", ARRANGE),
    BedAct("Who this is", "who", "PLACE", ARRANGE),
    BedAct("Check from paper", "assess?paper=1", "CHART", CHART_IT),
    BedAct("Move or close", "place", "PLACE", ARRANGE, when=_always),
    BedAct("Quiet view", "quiet", "PLACE", ARRANGE),
    BedAct("Trends", "trends", "READ_PATIENTS", LOOK, when=_always),
    BedAct("Timeline", "timeline", "READ_PATIENTS", LOOK, when=_always),
    BedAct("As it was known", "then", "READ_PATIENTS", LOOK, when=_always),
)


class Acts(Struct, frozen=True):
    """What is of one kind: charting, arranging, looking back."""

    label: str
    links: tuple[NavLink, ...]


def bed_acts(facts: CourseFacts, allowed: Collection[str]) -> tuple[Acts, ...]:
    """What this viewer can do for this course, by kind; `allowed` are permissions."""
    base = f"/courses/{facts.course_id}"
    offered = [act for act in BED_ACTS if act.act in allowed and act.when(facts)]
    found = {group: [each for each in offered if each.group == group] for group in GROUPS}
    return tuple(
        Acts(group, tuple(NavLink(act.label, f"{base}/{act.path}") for act in acts))
        for group, acts in found.items()
        if acts
    )


def tube_out_href(facts: CourseFacts) -> str:
    """Where one press records that the tube came out; empty without a tube, or after the end."""
    airway = facts.airways[-1] if facts.airways else None
    is_open = facts.ended_at is None and has_tube(airway)
    return f"/courses/{facts.course_id}/tube-out" if is_open else ""
