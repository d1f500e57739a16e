"""Who is to have which bed in the demo: this shift, in which one bed is with somebody else than
planned, and the next, in which one bed has nobody yet."""

from collections.abc import Iterator, Mapping

from app.actions.assign_beds import Choice, Shift
from seed_demo.shift import Span
from seed_demo.stories import STORIES

PLANS = "cedar"
"""The lead, who plans."""

OTHERWISE = ("L7", "cedar")
"""A bed that this shift was to be with somebody else than who accepted it."""
NOBODY_YET = "L9"


def plans(
    span: Span, unit_id: str, people: Mapping[str, str]
) -> Iterator[tuple[Shift, dict[str, Choice]]]:
    """Each shift with who is to have its beds; `people` are ids by sign-in name."""
    start = span.clock.shift_start(span.now)
    end = span.clock.shift_end(span.now)
    now = {
        story.bed: Choice(people[span.on_duty(start, story.bedside.by_day)])
        for story in STORIES
        if story.bedside is not None
    }
    then = {
        story.bed: Choice(people[span.on_duty(end, story.bedside.by_day)])
        for story in STORIES
        if story.bedside is not None and story.bed != NOBODY_YET
    }
    bed, name = OTHERWISE
    yield Shift(unit_id, start, end), {**now, bed: Choice(people[name])}
    yield Shift(unit_id, end, span.clock.shift_end(end)), then
