"""What passes from one person to the next: what is left to do, what may come, each step of it.

Facts like those of the chart: frozen, oldest first. What they mean is the business of the rules.
"""

from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct


class Level(StrEnum):
    """How worried somebody is about a patient; a person chooses it, nothing computes it."""

    LOW = "low"
    RAISED = "raised"
    HIGH = "high"


class Source(StrEnum):
    """Where a task comes from."""

    PERSON = "person"
    ORDER = "order"
    RULE = "rule"


class TaskState(StrEnum):
    """Where a task stands; one that was moved is open again at another time."""

    OPEN = "open"
    MOVED = "moved"
    DONE = "done"
    NOT_DONE = "not_done"


class StepKind(StrEnum):
    """One step of a handoff. Responsibility moves with ACCEPTED and TAKEN and with nothing else."""

    OFFERED = "offered"
    WITHDRAWN = "withdrawn"
    RETURNED = "returned"
    ANSWERED = "answered"
    ACCEPTED = "accepted"
    TAKEN = "taken"
    """Somebody took a bed that nobody had, or the lead one that nobody came for."""
    ADDED = "added"
    """Words that came late, for whoever accepted."""
    SEEN = "seen"
    """Somebody has looked at what came late."""


class Task(Struct, frozen=True):
    """Something left to do, as its newest version says; `id` is the first version's.

    `version_id` is the row that the next change supersedes. `due_at` is absolute, None where no
    time was given. `moved_from` is when it was due before it was moved.
    """

    id: str
    version_id: str
    words: str
    due_at: datetime | None
    owner: str
    """The role that does it, in words: "night therapist"."""
    source: Source
    state: TaskState
    reason: str
    author: str
    changed_by: str
    changed_at: datetime
    moved_from: datetime | None = None
    rule: str = ""
    """Which rule made it; empty for what a person wrote down."""

    @property
    def is_open(self) -> bool:
        """Whether somebody still has to do it."""
        return self.state in (TaskState.OPEN, TaskState.MOVED)


class IfThen(Struct, frozen=True):
    """What may come and what was agreed for it. The second half is always a person's own words."""

    id: str
    measure: str
    comparison: str
    """ "over", "under", or a person's word such as "falls"."""
    value: str
    lasting: str
    """For how long, "5 min"; empty for at once."""
    action: str
    call: str
    within_min: Decimal | None
    tried: str
    limit_key: str
    """Key of the limit that the first half was offered from; empty for a person's own."""
    author: str
    written_at: datetime


class HandoffStep(Struct, frozen=True):
    """One step: by whom, when, from whom to whom, in which words. `version` counts the offers."""

    id: str
    kind: StepKind
    at: datetime
    author: str
    author_id: str
    from_id: str = ""
    from_name: str = ""
    to_id: str = ""
    """Empty in an offer to whoever comes."""
    to_name: str = ""
    words: str = ""
    version: int = 0
    sha256: str = ""
    """Hash of the snapshot that an offer froze."""
    seen: tuple[str, ...] = ()
    """Keys of the differences that were seen before accepting, or of the late items."""
    on_behalf: bool = False
    """Done by a lead for the person in `from_id`."""
