"""What takes time at a person's beds, counted and weighed for a hint to whoever assigns.

Numbers of patients alone mislead, so that what is due, flagged and happened counts as well. The
weights, the spans and the difference worth a word are engineering judgement: nobody measured them,
and pages say so.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta

from msgspec import Struct

from app.rules.bed_summary import BedSummary

DUE_AHEAD = timedelta(hours=4)
EVENTS_BACK = timedelta(hours=12)

FOR_A_BED, FOR_A_DUE_ITEM, FOR_A_FLAGGED_BED, FOR_AN_EVENT = 2, 1, 2, 1
WORTH_A_WORD = 6
"""How far two people's sums lie apart before the page remarks on it."""


class Load(Struct, frozen=True):
    """What is at some beds: how many, what is due soon, how many are flagged, what happened."""

    beds: int = 0
    due: int = 0
    flagged: int = 0
    events: int = 0

    @property
    def weight(self) -> int:
        """The sum by the weights above; a hint, no measure of work."""
        return (
            self.beds * FOR_A_BED
            + self.due * FOR_A_DUE_ITEM
            + self.flagged * FOR_A_FLAGGED_BED
            + self.events * FOR_AN_EVENT
        )


def load_of(summaries: Iterable[tuple[BedSummary, int]], now: datetime) -> Load:
    """The load of some beds at `now`, each given with how many events it had lately.

    A bed that somebody is away from has nothing due meanwhile.
    """
    each = [(summary, events, _due(summary, now)) for summary, events in summaries]
    return Load(
        beds=len(each),
        due=sum(due for _, _, due in each),
        flagged=sum(bool(s.adult and s.flags_at(now)) for s, _, _ in each),
        events=sum(events for _, events, _ in each),
    )


def _due(summary: BedSummary, now: datetime) -> int:
    if summary.away is not None:
        return 0
    return sum(item.due_at <= now + DUE_AHEAD for item in summary.due_items)


def uneven(loads: Mapping[str, Load]) -> tuple[str, str] | None:
    """The heaviest and the lightest of several by name, where they lie far enough apart."""
    if len(loads) < 2:
        return None
    ordered = sorted(loads, key=lambda name: (loads[name].weight, name))
    lightest, heaviest = ordered[0], ordered[-1]
    apart = loads[heaviest].weight - loads[lightest].weight
    return (heaviest, lightest) if apart >= WORTH_A_WORD else None
