"""Watching for drift: flags derived from a course's facts and the policies in force, never stored.

`watch` says all of it, `flags_of` the flags alone, `Fold` takes one row after the other.
"""

from app.rules.watch.flags import (
    Answered,
    Flag,
    NotEvaluable,
    Once,
    Unjudged,
    Watched,
)
from app.rules.watch.fold import Fold, flags_of, watch
from app.rules.watch.policies import InForceFrom, Override, Policies
from app.rules.watch.sighting import Sighting, sightings

__all__ = [
    "Answered",
    "Flag",
    "Fold",
    "InForceFrom",
    "NotEvaluable",
    "Once",
    "Override",
    "Policies",
    "Sighting",
    "Unjudged",
    "Watched",
    "flags_of",
    "sightings",
    "watch",
]
