"""The flags of a course by cause, as the board, the bed and the handoff say them.

Derived from the watch fold and from what people said of its flags; only the latter is stored. All
moments are absolute: what time alone raises, or ends of a mute, is judged when it is read.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.answering import FlagAnswer, Said
from app.rules.watch.flags import LEVEL_AFTER, Flag, Once, Value

SAFETY = "safety"
"""The group that is counted apart: what must not wait for a second value."""


class FlagNow(Struct, frozen=True):
    """An open flag with the newest value of what it watches; None where it watches no value."""

    flag: Flag
    newest: Value | None = None
    corrected: bool = False
    """Whether a value that raised it, or the newest one, stands on a correction."""

    @property
    def last_raised(self) -> datetime:
        """When it was raised, or came back soon after it had cleared."""
        return max((self.flag.raised_at, *self.flag.reopened_at))


class OnceNow(Struct, frozen=True):
    """A value that lies outside once, and whether it stands on a correction."""

    once: Once
    corrected: bool = False


class GroupNow(Struct, frozen=True):
    """The open flags of one cause, oldest first, and what was said of them.

    `seen` is the newest acknowledgement since the oldest of them was raised, `mute` the newest mute
    that nobody took back.
    """

    group: str
    flags: tuple[FlagNow, ...]
    seen: FlagAnswer | None = None
    mute: FlagAnswer | None = None

    @property
    def since(self) -> datetime:
        """When the oldest of them was raised."""
        return self.flags[0].flag.raised_at

    @property
    def last_raised(self) -> datetime:
        """When the newest raise of any of them was."""
        return max(told.last_raised for told in self.flags)

    @property
    def rules(self) -> tuple[str, ...]:
        """Their rules."""
        return tuple(told.flag.rule for told in self.flags)

    @property
    def safety(self) -> bool:
        """Whether the group is counted apart."""
        return self.group == SAFETY

    def as_of(self, now: datetime) -> "GroupNow | None":
        """The group at `now`; None while time has not yet raised any of its flags."""
        raised = tuple(told for told in self.flags if told.flag.raised_at <= now)
        return replace(self, flags=raised) if raised else None

    def unanswered(self) -> tuple[FlagNow, ...]:
        """The flags that nobody acknowledged since they were last raised, a new level included."""
        return tuple(told for told in self.flags if not _meant(self.seen, told))

    def muted_until(self, now: datetime) -> datetime | None:
        """Until when it is muted; None where it is not, or where something was raised since."""
        mute = self.mute
        if mute is None or mute.until is None or now >= mute.until:
            return None
        return mute.until if all(_meant(mute, told) for told in self.flags) else None


def _meant(answer: FlagAnswer | None, told: FlagNow) -> bool:
    """Whether the person who answered had this flag before them as it stands now."""
    return (
        answer is not None
        and told.flag.rule in answer.rules
        and told.last_raised <= answer.answers_at
    )


def groups_now(flags: Iterable[FlagNow], answers: Sequence[FlagAnswer]) -> tuple[GroupNow, ...]:
    """Open flags joined by cause, the cause that has been open longest first, safety last."""
    by_group: dict[str, list[FlagNow]] = {}
    for told in flags:
        if told.flag.open:
            by_group.setdefault(told.flag.group, []).append(told)
    groups = (_group(group, found, answers) for group, found in by_group.items())
    return tuple(sorted(groups, key=lambda told: (told.safety, told.since, told.group)))


def _group(group: str, found: list[FlagNow], answers: Sequence[FlagAnswer]) -> GroupNow:
    found.sort(key=lambda told: (told.flag.raised_at, told.flag.rule))
    since = found[0].flag.raised_at
    of_it = [each for each in answers if each.group == group and each.at >= since]
    mutes = [each for each in of_it if each.said is not Said.SEEN]
    seen = [each for each in of_it if each.said is Said.SEEN]
    muted = mutes[-1] if mutes and mutes[-1].said is Said.MUTED else None
    return GroupNow(group, tuple(found), seen[-1] if seen else None, muted)


def edges_of(groups: Iterable[GroupNow]) -> Iterator[datetime]:
    """The moments at which time alone changes what is said of flags."""
    for group in groups:
        for told in group.flags:
            yield told.flag.raised_at
            if told.flag.drift:
                yield told.flag.raised_at + LEVEL_AFTER
        if group.mute is not None and group.mute.until is not None:
            yield group.mute.until
