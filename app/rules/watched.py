"""A course watched: one fold of its facts under the policies in force, kept from save to save.

Folding row by row gives what folding the whole gives, so a course that only grew at its end goes
on from where it was. Anything else (a late row, a correction, a strike, another tube, band, word
or policy) folds the whole course anew; whatever is kept, the answer is the same.
"""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from app.charting.answering import Said
from app.charting.facts import Assessment, CourseFacts
from app.charting.kept import Kept
from app.rules.away import pauses_of
from app.rules.policy import Policy
from app.rules.watch.carried import Carried
from app.rules.watch.flags import Answered, Value, Watched
from app.rules.watch.fold import Fold
from app.rules.watch.policies import Policies
from app.rules.watch.sighting import in_order, sightings_from

MOST = 64
"""How many courses are kept; a fold holds some hundred numbers."""


class _Walk(Struct):
    """A fold with the rows that it has seen and what it walked beside."""

    facts: CourseFacts
    rows: tuple[Assessment, ...]
    policies: Policies
    policy: Policy
    carried: Carried
    fold: Fold

    def goes_on(self, facts: CourseFacts, policies: Policies, policy: Policy) -> bool:
        """Whether nothing but rows at the end came since."""
        return (
            policies is self.policies
            and policy is self.policy
            and _beside(facts) == _beside(self.facts)
        )

    def is_start_of(self, rows: tuple[Assessment, ...]) -> bool:
        """Whether the rows begin with those seen, and what follows is later than all that was said.

        Rows are the very same objects as long as nobody touched them. What follows may not share
        its moment with a row that was seen: rows of one moment know each other.
        """
        seen = self.rows
        if len(rows) < len(seen) or any(a is not b for a, b in zip(seen, rows, strict=False)):
            return False
        if len(rows) == len(seen):
            return True
        said = [answer.at for answer in self.facts.answers]
        behind = max((seen[-1].observed_at, *said)) if seen else max(said, default=None)
        return behind is None or rows[len(seen)].observed_at > behind


def _beside(facts: CourseFacts) -> tuple[object, ...]:
    """What a fold stands on beside the rows."""
    return (
        facts.age_y,
        facts.body_sizes,
        facts.airways,
        facts.events,
        facts.targets,
        facts.answers,
    )


class KeptFolds(Kept[_Walk]):
    """The folds of courses."""

    def __init__(self) -> None:
        super().__init__(MOST)


class Looked(Struct, frozen=True):
    """What the rules say of a course from its newest row on, and the newest value by rule."""

    watched: Watched
    newest: Mapping[str, Value]


class Watching(Struct, frozen=True):
    """What a course is watched by: the unit's policies in time, and the folds kept of courses."""

    policies: Policies
    kept: KeptFolds | None = None

    def look(self, facts: CourseFacts, policy: Policy) -> Looked:
        """What holds of a course with every row seen, whatever the hour (see Fold.ahead).

        A child's rows say nothing: adult rules are off (decision 1). Of somebody who is under the
        adult age only now, what was raised and cleared before stays to be read.
        """
        walk = self._walked(facts, policy)
        watched = walk.fold.ahead(policy)
        if facts.age_y is not None and facts.age_y < policy.adult_age_y:
            watched = _history(watched)
        rules = {flag.rule for flag in (*watched.flags, *watched.information)}
        newest = {rule: value for rule in rules if (value := walk.fold.newest(rule)) is not None}
        if self.kept is not None:  # only now: another thread may go on with it at once
            self.kept.keep(facts.course_id, walk)
        return Looked(watched, newest)

    def _walked(self, facts: CourseFacts, policy: Policy) -> _Walk:
        rows = in_order(facts.standing)
        walk = self.kept.take(facts.course_id) if self.kept is not None else None
        goes_on = walk is not None and walk.goes_on(facts, self.policies, policy)
        if walk is None or not goes_on or not walk.is_start_of(rows):
            walk = self._begin(facts, policy)
        self._walk(walk, rows)
        return walk

    def _begin(self, facts: CourseFacts, policy: Policy) -> _Walk:
        answers = tuple(
            Answered(answer.group, answer.at, answer.rules)
            for answer in facts.answers
            if answer.said is Said.SEEN
        )
        fold = Fold(self.policies, answers, pauses_of(facts.events))
        return _Walk(facts, (), self.policies, policy, Carried(facts), fold)

    def _walk(self, walk: _Walk, rows: tuple[Assessment, ...]) -> None:
        """On to the end; tubes and body sizes stay the objects that were walked beside."""
        facts, seen = replace(walk.facts, assessments=rows), len(walk.rows)
        if len(rows) > seen:
            for sighting in sightings_from(facts, self.policies, walk.carried, seen):
                walk.fold.see(sighting)
        walk.facts, walk.rows = facts, rows


def _history(watched: Watched) -> Watched:
    """What is over; nothing of it stands, is to be read again, or is told."""
    cleared = tuple(flag for flag in watched.flags if not flag.open)
    return Watched(cleared, (), (), ())
