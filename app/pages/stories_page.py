"""The demo's stories on one page: what is told of each bed, with the way to it."""

from dataclasses import dataclass

from app.pages.frame import Frame


@dataclass(frozen=True, slots=True)
class DemoStory:
    """What is told of one bed of the demo; `patient` is empty for an empty bed."""

    bed: str
    patient: str
    headline: str
    told: str


@dataclass(frozen=True, slots=True)
class StoryLine:
    """A story with the way to its bed."""

    story: DemoStory
    href: str


@dataclass(frozen=True, slots=True)
class StoriesPage:
    """Every bed of the demo with its story, in the unit's order."""

    frame: Frame
    lines: tuple[StoryLine, ...]


def stories_page(frame: Frame, stories: tuple[DemoStory, ...]) -> StoriesPage:
    """The stories in the order in which they are handed over."""
    return StoriesPage(frame, tuple(StoryLine(story, f"/beds/{story.bed}") for story in stories))
