"""One course with everything worked out, for whatever page shows it."""

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct

from app.charting.airways import is_fresh
from app.charting.facts import CourseFacts
from app.charting.site_figures import SiteInTime
from app.pages.banner import banner_of
from app.pages.corrections import Was, was_with_the_old_height
from app.pages.frame import Banner
from app.pages.site_words import PLAIN, SiteWords
from app.pages.values import limit_of
from app.rules.attempts import Worked
from app.rules.bed_summary import BedSummary, summarise_worked, work_out
from app.rules.muted import muted_at
from app.rules.policy import Limit, Policy
from app.rules.standing import Statement
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies
from app.rules.watched import Watching


class Known(Struct, frozen=True):
    """One course with everything worked out, so that each part of a page looks only once."""

    facts: CourseFacts
    worked: Worked
    summary: BedSummary
    policy: Policy
    clock: UnitClock
    now: datetime
    was: Was
    """What rows showed per kg before the height was corrected."""
    policies: Policies
    """The policies in time with this patient's own ranges."""
    words: SiteWords = PLAIN
    """How this site writes oxygen and gases."""

    @property
    def site(self) -> SiteInTime:
        """The unit's adult age and barometric pressure as they were in force in time."""
        return self.policies.site

    def policy_at(self, moment: datetime) -> Policy:
        """The policy by which what was observed at a moment is judged (decision 13)."""
        return self.policies.at(moment)

    def adult_at(self, moment: datetime) -> bool:
        """Whether the patient counted as an adult then (decision 1); nobody's age is an adult's."""
        age = self.facts.age_y
        return age is None or age >= self.site.at(moment).adult_age_y

    def limit_at(self, key: str, moment: datetime) -> Limit | None:
        """The limit of that moment as the site writes it; none for a child of then (decision 1),
        and none while limits are muted or for what was seen while they were."""
        adult = self.adult_at(moment) and not self.quiet_at(moment)
        return limit_of(key, self.policy_at(moment), adult=adult, words=self.words)

    def quiet_at(self, moment: datetime) -> bool:
        """Whether nothing is judged that was seen then: limits are muted now, or were at its time.

        A course that is closed is read as it was judged while it was open.
        """
        return muted_at(self.facts, moment) is not None

    @property
    def banner(self) -> Banner:
        """Whose page it is."""
        return banner_of(self.facts, self.policy, self.clock, self.now, self.words)

    @property
    def every_row(self) -> Worked:
        """Every row of the chart, oldest first; one that does not count has no answers."""
        answers = {row.id: found for row, found in self.worked}
        return tuple((row, answers.get(row.id, {})) for row in self.facts.assessments)

    @property
    def statements(self) -> Mapping[str, Statement]:
        """The limits' answers at `now`, by key."""
        return {entry.key: entry.as_of(self.now) for entry in self.summary.statements}


def known(
    facts: CourseFacts,
    policy: Policy,
    clock: UnitClock,
    now: datetime,
    words: SiteWords = PLAIN,
    watching: Watching | None = None,
) -> Known:
    """Work out a course once for a page."""
    watching = watching or Watching(Policies(policy))
    policies = watching.policies
    worked = work_out(facts, policies)
    summary = summarise_worked(facts, worked, policy, clock, watching)
    was = was_with_the_old_height(facts, policies.site)
    return Known(facts, worked, summary, policy, clock, now, was, policies, words)


def is_fresh_now(course: Known) -> bool:
    """Whether the airway in place is a tracheostomy that the unit counts as fresh."""
    airways, days = course.facts.airways, course.policy.fresh_tracheostomy_days
    return is_fresh(airways, course.now, course.clock.day(course.now), days)
