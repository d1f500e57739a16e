"""What a story leaves for the next shift: tasks with their hours, and if-then lines."""

from datetime import timedelta

from msgspec import Struct

from app.actions.write_if_then import Line


class PlannedTask(Struct, frozen=True):
    """Something left to do, so long after the handoff was written."""

    words: str
    after: timedelta
    owner: str = ""
    source: str = "person"


class Plan(Struct, frozen=True):
    """The structured half of a handoff; its words stand in the notes."""

    tasks: tuple[PlannedTask, ...] = ()
    lines: tuple[Line, ...] = ()
