"""The fold: rows in, one after the other, and what the rules say of them.

Each rule keeps the values of its series and its flags; nothing else is remembered, so folding row
by row gives what folding the whole gives. A row that arrives late is folded anew from the start.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from app.charting.facts import CourseFacts, Kind
from app.rules.away import Pause, pauses_of
from app.rules.policy import Policy
from app.rules.watch.around import Around
from app.rules.watch.beyond import Beyond
from app.rules.watch.flags import LEVEL_AFTER, Answered, Flag, NotEvaluable, Once, Value, Watched
from app.rules.watch.judged import Judged
from app.rules.watch.overdue import RULE as OVERDUE
from app.rules.watch.overdue import PlateauDue
from app.rules.watch.policies import InUse, Policies, in_time
from app.rules.watch.reads import THROUGH_THE_TUBE
from app.rules.watch.rule import Bounds, Rule
from app.rules.watch.rules import RULES
from app.rules.watch.sighting import Sighting, sightings
from app.rules.watch.track import Lane, Track, lanes_of
from app.rules.watch.trail import Point
from app.rules.watch.words import bounds_of, flag_of, shown, source_of, value_of

READ_AGAIN = timedelta(minutes=30)
"""When a value that lies outside once is to be read again (decision 26)."""

_ALWAYS = datetime.max.replace(tzinfo=UTC)
_NEVER = datetime.min.replace(tzinfo=UTC)


class Fold:
    """Takes the rows of one course, oldest first; `at` says what holds at a moment."""

    def __init__(
        self,
        policies: Policies,
        answers: Sequence[Answered] = (),
        pauses: Sequence[Pause] = (),
    ) -> None:
        self._policies = policies
        self._answers = sorted(answers, key=lambda answer: answer.at)
        self._lanes = lanes_of(RULES)
        of_lanes = (lane.tracks for lanes in self._lanes.values() for lane in lanes)
        self._tracks = {track.rule.key: track for tracks in of_lanes for track in tracks}
        self._around, self._judged, self._plateau = Around(), Judged(), PlateauDue(pauses)
        self._origin: datetime | None = None
        self._band: Decimal | None = None
        self._rows = 0
        self._tubeless = False

    def see(self, sighting: Sighting) -> None:
        """Take over one row; it must not lie before the rows already seen."""
        if self._origin is None:
            self._origin = sighting.at
        self._hear(lambda answer: answer.at < sighting.at)
        if sighting.child:
            self._leave_adults(sighting)
            return
        policy = self._policies.at(sighting.at)
        self._band = sighting.band_low
        self._rows += sighting.kind is Kind.FULL
        in_use = self._bounds(policy)
        self._plateau.see(sighting, in_use[OVERDUE.key], policy.version)
        self._around.see(sighting, policy.rules.get("baseline"))
        if sighting.tubeless and not self._tubeless:
            self._leave_tube(sighting.at)
        self._tubeless = sighting.tubeless
        self._judged.see(sighting)
        self._take(sighting, in_use, policy.version)

    def _leave_tube(self, at: datetime) -> None:
        """Flags of what was read through the tube end with it, and nothing is compared with it."""
        for track in self._tracks.values():
            if track.rule.series in THROUGH_THE_TUBE:
                if track.standing is not None:
                    track.standing.clear(at, self._rows, "the tube is out")
                track.trail.forget()
        self._judged.leave_tube(at, THROUGH_THE_TUBE)

    def _leave_adults(self, sighting: Sighting) -> None:
        """From a row of somebody under the adult age on, every adult rule is off (decision 1)."""
        for track in self._tracks.values():
            if track.standing is not None:
                track.standing.clear(sighting.at, self._rows, "adult rules are off")
            track.trail.forget()
        self._plateau.see(sighting, None, 0)
        self._judged.forget()

    def _bounds(self, policy: Policy) -> InUse:
        return self._policies.in_use(policy, self._band, _every_bounds)

    def _take(self, sighting: Sighting, in_use: InUse, version: int) -> None:
        """First every value, then every verdict: a rule may look at a series beside its own."""
        at, touched = sighting.at, list[tuple[Track, Bounds]]()
        hour = (at - self._origin).total_seconds() / 3600 if self._origin else 0.0
        for series, value in sighting.values.items():
            for lane in self._lanes.get(series, ()):
                if not lane.restarts or lane.group not in sighting.quiet:
                    epoch = self._around.epoch(lane.restarts) if lane.restarts else 0
                    lane.trail.add(Point(at, hour, value, epoch))
                    touched += self._to_judge(lane, value, in_use)
        for track, bounds in touched:
            beside = self._tracks[track.rule.beside].trail if track.rule.beside else None
            other = track.rule.drift and self._other_ground(track)
            track.look(bounds, self._rows, version, other_ground=other, beside=beside)

    def _to_judge(self, lane: Lane, value: float, in_use: InUse) -> Iterator[tuple[Track, Bounds]]:
        """The rules of a lane for which this value may raise or clear anything."""
        for track in lane.tracks:
            bounds, flag = in_use[track.rule.key], track.standing
            if bounds is None:
                if flag is not None:
                    flag.clear(lane.trail.points[-1].at, self._rows, "this unit set it off")
            elif flag is not None or not bounds.calm_from <= value <= bounds.calm_to:
                yield track, bounds

    def _other_ground(self, track: Track) -> bool:
        flag = track.standing
        return flag is not None and self._around.other_ground(track.rule, flag.evidence.points[-1])

    def _hear(self, is_said: Callable[[Answered], bool]) -> None:
        """People's words by then: a slide ends at once, a drift once it is a new level. Who speaks
        at the time of a row has seen it."""
        while self._answers and is_said(self._answers[0]):
            answer = self._answers.pop(0)
            for track in self._tracks.values():
                if track.rule.drift and answer.meant(track.rule.group, track.rule.key):
                    _acknowledge(track, answer.at, self._rows)

    def at(self, now: datetime) -> Watched:
        """What the rules say at a moment not before the newest row seen."""
        self._hear(lambda answer: answer.at <= now)
        in_use = self._bounds(self._policies.at(now))
        return self._said(now, tuple(self._unjudged(in_use, now)))

    def ahead(self, policy: Policy) -> Watched:
        """What holds from the newest row on until another row or word comes, at any hour.

        A flag that time alone will raise is among the flags with the moment at which it does. What
        turns too old is the reader's to say; what was tried and not done is said here.
        """
        self._hear(lambda _: True)
        in_use = self._bounds(policy)
        return self._said(_ALWAYS, tuple(self._unjudged(in_use, _NEVER)))

    def newest(self, rule: str) -> Value | None:
        """The newest value of the series that a rule reads; None where there is none."""
        track = self._tracks.get(rule)
        points = track.trail.points if track is not None else ()
        return value_of(track.rule, points[-1]) if track is not None and points else None

    def _said(self, now: datetime, unjudged: tuple[NotEvaluable, ...]) -> Watched:
        flags = [*self._flags(), *self._plateau.flags(now)]
        flags.sort(key=lambda flag: (flag.raised_at, flag.group, flag.rule))
        return Watched(
            tuple(flag for flag in flags if not flag.information),
            tuple(self._once()),
            unjudged,
            tuple(flag for flag in flags if flag.information),
        )

    def _flags(self) -> Iterator[Flag]:
        for track in self._tracks.values():
            for raised in track.flags:
                yield flag_of(track.rule, raised)

    def _once(self) -> Iterator[Once]:
        """Each newest value by the policy of its own moment."""
        for key, track in self._tracks.items():
            rule = track.rule
            if rule.drift or rule.information or track.standing or not track.trail.points:
                continue
            newest = track.trail.points[-1]
            bounds = self._bounds(self._policies.at(newest.at))[key]
            if bounds is not None and isinstance(rule.test, Beyond):
                yield from _outside_once(rule, rule.test, newest, bounds)

    def _unjudged(self, in_use: InUse, now: datetime) -> Iterator[NotEvaluable]:
        for key, track in self._tracks.items():
            found = self._judged.unjudged(track.rule, in_use[key], now)
            if found is not None:
                yield found


def _every_bounds(policy: Policy, band: Decimal | None) -> InUse:
    return {rule.key: bounds_of(rule, policy, band) for rule in (*RULES, OVERDUE)}


def _outside_once(rule: Rule, test: Beyond, newest: Point, bounds: Bounds) -> Iterator[Once]:
    side = test.side_of(newest.value, bounds)
    if side:
        yield Once(
            rule.group,
            rule.key,
            rule.series,
            value_of(rule, newest),
            side,
            shown(rule, test.end(side, bounds) or 0.0),
            source_of(bounds),
            newest.at + READ_AGAIN,
        )


def _acknowledge(track: Track, at: datetime, row: int) -> None:
    flag = track.standing
    if flag is None or flag.raised_at > at:
        return
    if track.rule.ends_when_seen or at - flag.raised_at >= LEVEL_AFTER:
        flag.clear(at, row, "somebody said that it was seen")
        track.trail.forget()


def watch(
    facts: CourseFacts,
    policies: Policies | Policy,
    now: datetime,
    answers: Sequence[Answered] = (),
) -> Watched:
    """Everything the rules say of a course at `now`; rows observed later are not looked at."""
    held = in_time(policies)
    fold = Fold(held, answers, pauses_of(facts.events))
    for sighting in _until(sightings(facts, held), now):
        fold.see(sighting)
    return fold.at(now)


def flags_of(
    facts: CourseFacts,
    policies: Policies | Policy,
    now: datetime,
    answers: Sequence[Answered] = (),
) -> tuple[Flag, ...]:
    """The flags of a course at `now`, cleared ones among them, oldest first."""
    return watch(facts, policies, now, answers).flags


def _until(seen: Iterable[Sighting], now: datetime) -> Iterator[Sighting]:
    for sighting in seen:
        if sighting.at > now:
            return
        yield sighting
