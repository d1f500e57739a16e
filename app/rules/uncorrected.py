"""A course as it would stand had nothing been put right: to say which flags a correction made."""

from collections.abc import Iterable, Iterator
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.event_facts import Event
from app.charting.facts import Assessment, CourseFacts, Reading
from app.rules.watch.flags import Flag
from app.rules.watch.fold import flags_of
from app.rules.watch.policies import Policies


class ByCorrection(Struct, frozen=True):
    """What corrections did to the flags of a course: raised by them, or taken away by them.

    `at` is when the newest of them was written; None where nothing was put right.
    """

    at: datetime | None
    raised: frozenset[tuple[str, datetime]]
    gone: tuple[Flag, ...]

    def did_raise(self, flag: Flag) -> bool:
        """Whether the flag stands only since something was put right."""
        return (flag.rule, flag.raised_at) in self.raised


def by_correction(
    facts: CourseFacts, flags: Iterable[Flag], policies: Policies, now: datetime
) -> ByCorrection:
    """Compare the flags with those of the course as it was first charted, at `now`.

    A height that was corrected counts too; a struck row counts as it did before it was struck.
    """
    moments = tuple(_put_right_at(facts))
    if not moments:
        return ByCorrection(None, frozenset(), ())
    before = flags_of(as_first_charted(facts), policies, now)
    stood = {(flag.rule, flag.raised_at): flag for flag in before if not flag.information}
    stands = {(flag.rule, flag.raised_at) for flag in flags}
    gone = tuple(flag for key, flag in stood.items() if key not in stands)
    return ByCorrection(max(moments), frozenset(stands - stood.keys()), gone)


def as_first_charted(facts: CourseFacts) -> CourseFacts:
    """Every reading, height and event as it was first written, and nothing struck."""
    events = [_first_event(event) for event in (*facts.events, *facts.struck_events)]
    airways = (*facts.airways, *facts.struck_airways)
    return replace(
        facts,
        events=tuple(sorted(events, key=lambda event: (event.observed_at, event.id))),
        airways=tuple(sorted(airways, key=lambda row: (row.observed_at, row.id))),
        assessments=tuple(replace(_first(row), struck="") for row in facts.assessments),
        body_sizes=tuple(size.versions[0] for size in facts.body_sizes),
    )


def _first(row: Assessment) -> Assessment:
    if not row.corrected:
        return row
    return replace(row, readings={code: _oldest(each) for code, each in row.readings.items()})


def _oldest(reading: Reading) -> Reading:
    while reading.corrected_from is not None:
        reading = reading.corrected_from
    return reading


def _first_event(event: Event) -> Event:
    begun = next((put.at for put in event.put_right if not put.of_end), event.observed_at)
    ended = next((put.at for put in event.put_right if put.of_end), event.ended_at)
    return replace(event, observed_at=begun, ended_at=ended)


def _put_right_at(facts: CourseFacts) -> Iterator[datetime]:
    yield from _in_the_chart(facts)
    for event in facts.struck_events:
        if event.struck_at is not None:
            yield event.struck_at
    for event in facts.events:
        yield from (put.written_at for put in event.put_right)
    for size in facts.body_sizes:
        if size.corrected_from is not None and size.recorded_at is not None:
            yield size.recorded_at


def _in_the_chart(facts: CourseFacts) -> Iterator[datetime]:
    for row in facts.assessments:
        if row.struck and row.signed and row.struck_at is not None:
            yield row.struck_at
        for reading in row.readings.values():
            if reading.corrected_from is not None:
                yield reading.recorded_at
