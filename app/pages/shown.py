"""What every page is made of: a number with its state, a moment, a worry, a due time."""

from enum import StrEnum

from msgspec import Struct


class When(Struct, frozen=True):
    """A moment as a page writes it: for the machine in UTC, for the reader in the unit's zone."""

    iso: str
    text: str
    """Clock time, with the day when it is not today and the zone when a clock change is near."""


class Drawn(StrEnum):
    """How a value is drawn. Absence is drawn as absence: open line, hatch, or nothing."""

    MEASURED = "measured"
    CONFIRMED = "confirmed"
    CHANGED = "changed"
    WORKED_OUT = "worked-out"
    STATED = "stated"
    NOT_MEASURED = "not-measured"
    """An open line: nobody filled it, though it can be filled."""
    NOT_VALID = "not-valid"
    """A hatch: nobody can fill it here, or what is there does not hold."""
    NOTHING = "nothing"
    """Does not apply: drawn as nothing."""


class Beyond(StrEnum):
    """Where a value lies against the range this unit set."""

    NO = ""
    OVER = "over"
    UNDER = "under"


class Shown(Struct, frozen=True):
    """One number, word or absence, ready to be written out."""

    label: str
    text: str
    """The number or word; empty where there is none."""
    drawn: Drawn
    unit: str = ""
    word: str = ""
    """The line under it: "over 15", "was 50", "plateau not done: effort"."""
    beyond: Beyond = Beyond.NO
    once: bool = False
    """True while a single value lies beyond (a broken line), False once it is confirmed."""
    stale: bool = False
    corrected: bool = False
    struck: bool = False
    key: str = ""
    """Field code or index key, for the address of its explanation and for tests."""
    when: When | None = None
    author: str = ""
    href: str = ""

    @property
    def classes(self) -> str:
        """By what its state is drawn."""
        states = (
            ("once", self.once),
            ("old", self.stale),
            ("struck", self.struck),
        )
        names = (self.drawn, self.beyond, *(name for name, holds in states if holds))
        return " ".join(("n", *(f"n-{name}" for name in names if name)))

    @property
    def aloud(self) -> str:
        """What its state says to somebody who listens, where no word of its own stands under it."""
        if self.beyond:
            return f"{self.beyond} the limit"
        if self.drawn in _ABSENT:
            return _ABSENT[self.drawn]
        if self.struck:
            return "struck"
        return "old" if self.stale and not self.corrected else ""

    @property
    def way(self) -> str:
        """What the way to its explanation is called: "Driving pressure 16, how"."""
        what = self.text or self.word or _ABSENT.get(self.drawn, "")
        return f"{self.label} {what}, {'how' if self.text else 'why'}"


_ABSENT = {Drawn.NOT_MEASURED: "not measured", Drawn.NOT_VALID: "not valid"}


class Tone(StrEnum):
    """Which mark stands before a worry or a count."""

    FLAG = "flag"
    SEEN = "seen"
    """A flag that somebody acknowledged or muted: it stands, and nobody has to be told anew."""
    ONCE = "once"
    OVERDUE = "overdue"
    NOT_EVALUABLE = "not-evaluable"
    AWAY = "away"
    MUTED = "muted"
    """Nothing is judged or due here: the course is closed, or support has been withdrawn."""
    NOTE = "note"
    QUIET = "quiet"


class Worry(Struct, frozen=True):
    """One line of why a bed needs eyes, in words, with what stands behind it."""

    tone: Tone
    words: str
    detail: str = ""
    when: When | None = None
    group: str = ""
    """The cause that it belongs to; "safety" is counted apart."""
    href: str = ""
    """Where it is explained."""


class Due(Struct, frozen=True):
    """What is next for a bed and when; `state` is "due", "late", "overdue" or "paused"."""

    what: str
    state: str
    when: When | None = None
    words: str = ""


class Count(Struct, frozen=True):
    """A figure over a list: "3 cannot be judged"."""

    number: int
    words: str
    tone: Tone = Tone.QUIET
