"""The demo's stories on one page: what is told of each bed, with the way to it."""

from msgspec import Struct

from app.pages.frame import Frame


class DemoStory(Struct, frozen=True):
    """What is told of one bed of the demo; `patient` is empty for an empty bed."""

    bed: str
    patient: str
    headline: str
    told: str


class StoryLine(Struct, frozen=True):
    """A story with the way to its bed."""

    story: DemoStory
    href: str


class FirstStep(Struct, frozen=True):
    """One thing to try in the demo: where, and what to do there."""

    name: str
    href: str
    words: str


FIRST_STEPS = (
    FirstStep(
        "My beds",
        "/mine",
        "What is due in two hours. Check, at a bed: Enter walks on. In a bed of somebody else's "
        "shift the first save asks why.",
    ),
    FirstStep("A bed", "/beds/L2", "What stands out, and why. Open any number to see its sum."),
    FirstStep("Handoffs", "/handoffs", "Offer a bed, sign in as another person, accept it."),
    FirstStep("Scan", "/scan", "The unit in a minute, as a lead reads it at night."),
    FirstStep("Guide", "/help/guide", "What each page is for. Press ? on any page for its keys."),
)
"""Five lines for who has never seen the program; on a page of their own they cover nothing."""


class StoriesPage(Struct, frozen=True):
    """Every bed of the demo with its story, in the unit's order."""

    frame: Frame
    lines: tuple[StoryLine, ...]
    steps: tuple[FirstStep, ...] = ()


def stories_page(frame: Frame, stories: tuple[DemoStory, ...]) -> StoriesPage:
    """The stories in the order in which they are handed over."""
    lines = tuple(StoryLine(story, f"/beds/{story.bed}") for story in stories)
    return StoriesPage(frame, lines, FIRST_STEPS)
