"""The twelve beds of the demo, in the order of the unit; told on one page, in the demo only."""

from seed_demo.beds import (
    auto_peep,
    child,
    fresh_tracheostomy,
    high_flow,
    missing_height,
    no_plateau,
    pressure_support,
    prone,
    quiet,
    slow_fall,
    stiff_lung,
)
from seed_demo.story import Story

EMPTY = Story(
    bed="L12",
    headline="An empty bed",
    told="Cleaned and ready. An empty bed has nothing to show, and shows nothing.",
)

STORIES: tuple[Story, ...] = (
    quiet.STORY,
    stiff_lung.STORY,
    auto_peep.STORY,
    slow_fall.STORY,
    no_plateau.STORY,
    pressure_support.STORY,
    prone.STORY,
    fresh_tracheostomy.STORY,
    high_flow.STORY,
    missing_height.STORY,
    child.STORY,
    EMPTY,
)
"""Bed L1 first."""
