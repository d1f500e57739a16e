"""What a story leaves for the next shift: tasks with their hours, and if-then lines."""

from dataclasses import dataclass
from datetime import timedelta

from app.actions.write_if_then import Line


@dataclass(frozen=True, slots=True)
class PlannedTask:
    """Something left to do, so long after the handoff was written."""

    words: str
    after: timedelta
    owner: str = ""
    source: str = "person"


@dataclass(frozen=True, slots=True)
class Plan:
    """The structured half of a handoff; its words stand in the notes."""

    tasks: tuple[PlannedTask, ...] = ()
    lines: tuple[Line, ...] = ()
