"""Prone sessions, transports, standby and breathing trials: what is charted of each, and when.

What lasts begins, may be added to, and ends, each a row of its own by whoever is on shift. Two of
one kind never overlap, whenever they are written down. The list is common practice.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from enum import StrEnum
from types import MappingProxyType

from msgspec import Struct

from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS, EventKind
from app.charting.fields.episodes import ASKED_OF_EPISODES, PASSED, SCREEN_ITEMS, T_PIECE
from app.charting.in_force import going_on

PRONE, AWAY, STANDBY = "prone", "away", "standby"
SCREEN, TRIAL = "trial_screen", "breathing_trial"
MEMBRANE, NITRIC = "ecmo", "nitric_oxide"


class Phase(StrEnum):
    """Where in its course an episode is when something is said of it."""

    BEGIN = "begin"
    ADD = "add"
    END = "end"
    ONCE = "once"


class EpisodeAct(Struct, frozen=True):
    """One thing that can be charted: its label, and which fields its form asks for."""

    kind: str
    phase: Phase
    label: str
    asks: tuple[str, ...]
    at_end: tuple[str, ...] = ()
    """What is asked too where it is written down when it is over."""

    @property
    def code(self) -> str:
        """How its form names it."""
        return f"{self.kind}.{self.phase}"

    @property
    def cylinder(self) -> bool:
        """Whether it asks how long the cylinder lasts."""
        return self.kind == AWAY and self.phase in (Phase.BEGIN, Phase.ADD)


_OVER = ("ended_at",)
_ON_THE_WAY = ("way_fio2", "way_peep", "way_volume", "way_rate", "way_spo2", "way_etco2")
_WORDS = "episode_words"
_ACTS = (
    EpisodeAct(
        PRONE,
        Phase.BEGIN,
        "Turned prone",
        ("prone_head_side", "prone_depth_before", "prone_depth_after", "prone_target_h", _WORDS),
        _OVER,
    ),
    EpisodeAct(
        PRONE,
        Phase.ADD,
        "Add to the prone session",
        ("prone_head_side", "prone_depth_after", "prone_target_h", "prone_skin", _WORDS),
    ),
    EpisodeAct(PRONE, Phase.END, "Turned supine", ("prone_depth_after", "prone_skin", _WORDS)),
    EpisodeAct(AWAY, Phase.BEGIN, "Left the unit", ("away_to", "away_machine", _WORDS), _OVER),
    EpisodeAct(AWAY, Phase.ADD, "On the way", (*_ON_THE_WAY, _WORDS)),
    EpisodeAct(AWAY, Phase.END, "Back on the unit", ("away_happened", _WORDS)),
    EpisodeAct(
        STANDBY,
        Phase.BEGIN,
        "On standby or disconnected",
        ("standby_how", "standby_breathes", _WORDS),
        _OVER,
    ),
    EpisodeAct(STANDBY, Phase.END, "Back on the machine", ("standby_alarms", _WORDS)),
    EpisodeAct(SCREEN, Phase.ONCE, "Screened for a trial", (*SCREEN_ITEMS, "screen_not_done")),
    EpisodeAct(
        TRIAL,
        Phase.BEGIN,
        "Breathing trial begun",
        ("trial_kind", "trial_level", "trial_minutes", _WORDS),
        (*_OVER, "trial_outcome", "trial_reason"),
    ),
    EpisodeAct(
        TRIAL, Phase.END, "Breathing trial ended", ("trial_outcome", "trial_reason", _WORDS)
    ),
)
EPISODE_ACTS: Mapping[str, EpisodeAct] = MappingProxyType({act.code: act for act in _ACTS})
"""Code to act, in the order in which a page offers them."""


def offered_acts(events: Iterable[Event], now: datetime) -> tuple[EpisodeAct, ...]:
    """What can be charted now: the end and more of what goes on first, then what can begin."""
    known = tuple(events)
    lasting = {
        act.kind
        for act in _ACTS
        if act.phase is Phase.BEGIN and going_on(known, act.kind, now) is not None
    }
    ends = [act for act in _ACTS if act.kind in lasting and act.phase is Phase.END]
    adds = [act for act in _ACTS if act.kind in lasting and act.phase is Phase.ADD]
    begins = [
        act for act in _ACTS if act.kind not in lasting and act.phase in (Phase.BEGIN, Phase.ONCE)
    ]
    return (*ends, *adds, *begins)


def lasting_since(events: Iterable[Event]) -> dict[str, datetime]:
    """Since when each kind of event goes on that lasts and has not ended."""
    return {
        event.kind: event.observed_at
        for event in events
        if event.ended_at is None and event.kind in EVENT_KINDS and EVENT_KINDS[event.kind].lasts
    }


def overlap_refused(
    events: Iterable[Event], kind: EventKind, begun: datetime, ended: datetime | None
) -> Iterator[str]:
    """Why a state may not have lasted from then to then (on and on, without an end)."""
    if ended is not None and ended <= begun:
        yield "The end is before the beginning, or at the same minute. Look at both times."
        return
    for event in events:
        if event.kind != kind.code:
            continue
        before = event.ended_at is not None and event.ended_at <= begun
        after = ended is not None and ended <= event.observed_at
        if not before and not after:
            yield _overlap(kind, event, begun)
            return


def _overlap(kind: EventKind, event: Event, begun: datetime) -> str:
    if event.ended_at is None and event.observed_at <= begun:
        return f"“{kind.label}” is charted already and has not ended."
    if event.observed_at > begun:
        return (
            f"“{kind.label}” is charted again later. Say when this earlier one ended: two of them"
            " may not overlap."
        )
    return f"“{kind.label}” is charted for this time already: two of them may not overlap."


def outcome_words(event: Event) -> str:
    """How it ended, as far as anybody said: "failed: rate over 35"; empty for nothing said."""
    outcome = event.detail("trial_outcome")
    label = ASKED_OF_EPISODES["trial_outcome"].label_of(outcome).lower() if outcome else ""
    return ": ".join(filter(None, (label, event.detail("trial_reason"), event.end_words)))


SCREEN_HOLDS = timedelta(hours=24)
"""For how long a screen leads to a trial: one is made a day (common practice)."""


def screen_before(events: Iterable[Event], at: datetime) -> Event | None:
    """The newest screen that a trial at this time may rest on; None where nobody has looked."""
    found = [
        event
        for event in events
        if event.kind == SCREEN and timedelta(0) <= at - event.observed_at <= SCREEN_HOLDS
    ]
    return found[-1] if found else None


def screen_result(screen: Event) -> str:
    """What a screen came to, in words."""
    return screen_words({code: screen.detail(code) for code in (*SCREEN_ITEMS, "screen_not_done")})


def trial_refused(
    events: Iterable[Event], at: datetime, details: Mapping[str, str]
) -> Iterator[str]:
    """Why a trial cannot be charted as begun.

    A screen that was not passed, or not made for a reason, does not stop it: what happened can be
    charted as found (decision 29), but what was looked at before is said.
    """
    known = tuple(events)
    if screen_before(known, at) is None:
        yield (
            "No screen is charted in the 24 h before this trial. Chart the screen first, with its"
            " own time, or that none was made and why."
        )
    way = details.get("trial_kind", "")
    if not way:
        yield "Say how: T-piece, pressure support or CPAP."
    elif way != T_PIECE and not details.get("trial_level"):
        yield "Write the level of support or CPAP."
    if going_on(known, STANDBY, at) is not None:
        yield "The machine is charted as on standby or disconnected at that time. End that first."


def outcome_refused(details: Mapping[str, str]) -> Iterator[str]:
    """Why the end of a trial cannot be charted."""
    outcome = details.get("trial_outcome", "")
    if not outcome:
        yield "Say how the trial ended: passed, failed, or stopped for another reason."
    elif outcome != PASSED and not details.get("trial_reason"):
        yield "Say why the trial failed or was stopped."


def screen_refused(details: Mapping[str, str]) -> Iterator[str]:
    """Why a screen cannot be charted: neither every item nor a reason why there was none."""
    answered = [code for code in SCREEN_ITEMS if details.get(code)]
    if details.get("screen_not_done"):
        if answered:
            yield "Either answer the items, or say why nobody screened."
    elif len(answered) < len(SCREEN_ITEMS):
        yield "Answer every item of the screen, or say why it was not done."


def told_in_short(kind: str, details: Mapping[str, str]) -> str:
    """What of the details stands in the event's own line, so that every list of events says it."""
    if kind == SCREEN:
        return screen_words(details)
    codes = IN_ITS_LINE.get(kind, ())
    return ", ".join(_word(code, details[code]) for code in codes if details.get(code))


def screen_words(details: Mapping[str, str]) -> str:
    """ "passed", "not passed: oxygen", or "not done: no time"."""
    if details.get("screen_not_done"):
        return f"not done: {details['screen_not_done']}"
    against = [word for code, word in SCREEN_ITEMS.items() if details.get(code) == "no"]
    return f"not passed: {', '.join(against)}" if against else "passed"


IN_ITS_LINE: Mapping[str, tuple[str, ...]] = {
    PRONE: ("prone_head_side",),
    AWAY: ("away_to",),
    STANDBY: ("standby_how",),
    TRIAL: ("trial_kind", "trial_level"),
}
"""What the line of an event says already."""


_NAMES = frozenset({"T-piece", "CPAP"})
"""What keeps its capitals within a line."""


def _word(code: str, said: str) -> str:
    field = ASKED_OF_EPISODES[code]
    if field.choices:
        label = field.label_of(said)
        told = label if label in _NAMES else label.lower()
        return f"head {told}" if code == "prone_head_side" else told
    return f"{said} {field.unit}".strip()
