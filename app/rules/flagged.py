"""Which values outside a limit are flags, and which lie outside once: the fold decides.

`standing` says of each limit where its newest value lies and why it cannot be judged; whether that
is a flag is the business of the limit's rules. A limit that no rule confirms, such as one that a
unit added, is confirmed by two values in a row.
"""

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from app.charting.facts import CourseFacts
from app.rules.flags_now import FlagNow, GroupNow, OnceNow, groups_now
from app.rules.muted import muted_now
from app.rules.policy import Policy
from app.rules.standing import Statement, Verdict
from app.rules.watch.flags import Flag, Once, Unjudged, Value, Watched
from app.rules.watch.fold import READ_AGAIN
from app.rules.watch.rules import RULES
from app.rules.watched import Watching

RULES_OF: Mapping[str, frozenset[str]] = {
    key: frozenset(rule.key for rule in RULES if key in (rule.limit, rule.series))
    for key in {name for rule in RULES for name in (rule.limit, rule.series)} - {""}
}
"""The rules that confirm a limit, by the limit's key."""

READ_FROM: Mapping[str, tuple[str, ...]] = {
    "driving_pressure": ("plateau_pressure_obs", "peep_total", "peep_set"),
    "plateau": ("plateau_pressure_obs",),
    "compliance": ("plateau_pressure_obs", "peep_set", "tidal_volume_set", "tidal_volume_obs"),
    "compliance_dynamic": ("peak_inspiratory_pressure_obs", "peep_set", "tidal_volume_set"),
    "compliance_both": (
        "plateau_pressure_obs",
        "peak_inspiratory_pressure_obs",
        "peep_set",
        "tidal_volume_set",
    ),
    "resistance": ("plateau_pressure_obs", "peak_inspiratory_pressure_obs", "flow_rate_set"),
    "peak_less_plateau": ("plateau_pressure_obs", "peak_inspiratory_pressure_obs"),
    "vt_set_per_kg": ("tidal_volume_set",),
    "vt_over_order": ("tidal_volume_set", "tidal_volume_target_ml_kg"),
    "vt_measured_per_kg": ("tidal_volume_obs",),
    "vt_own_per_kg": ("tidal_volume_obs",),
    "leak": ("tidal_volume_set", "tidal_volume_obs"),
    "fio2": ("fio2_set",),
    "peep": ("peep_set",),
    "sf": ("spo2", "fio2_set"),
    "spo2_over_band": ("spo2", "fio2_set"),
    "rate": ("resp_rate_obs",),
    "rate_open": ("resp_rate_obs",),
    "auto_peep": ("peep_total", "peep_set"),
    "cuff": ("cuff_pressure_cmh2o",),
    "depth_moved": ("airway_depth_cm",),
    "depth_unexplained": ("airway_depth_cm",),
}
"""What a series is read from, where its name is not the field's own."""


class Flagged(Struct, frozen=True):
    """The limits' answers with the fold's word on each, and the flags by cause."""

    statements: tuple[Statement, ...]
    groups: tuple[GroupNow, ...]
    once: tuple[OnceNow, ...]
    told: tuple[FlagNow, ...]


def flagged(
    facts: CourseFacts, told: Sequence[Statement], policy: Policy, watching: Watching
) -> Flagged:
    """What stands out at a course, in the words of its rules. A child's course raises nothing.

    Nothing is said of a course that is closed or muted, its limits included.
    """
    if muted_now(facts) is not None:
        return Flagged((), (), (), ())
    looked = watching.look(facts, policy)
    watched = looked.watched
    plain = [entry for entry in told if entry.key not in RULES_OF]
    corrected = _Corrected(facts)

    def now(flag: Flag) -> FlagNow:
        newest = looked.newest.get(flag.rule)
        moments = {value.at for value in (*flag.values, *((newest,) if newest else ()))}
        return FlagNow(flag, newest, not moments.isdisjoint(corrected.of(flag.series)))

    flags = [*map(now, watched.flags), *_plain_flags(plain, policy)]
    return Flagged(
        statements=tuple(_confirmed(entry, watched, policy) for entry in told),
        groups=groups_now(flags, facts.answers),
        once=(*(_once_now(each, corrected) for each in watched.once), *_plain_once(plain)),
        told=tuple(now(flag) for flag in watched.information if flag.open),
    )


def _confirmed(told: Statement, watched: Watched, policy: Policy) -> Statement:
    """Outside is a flag where a rule of the limit has one open on that side, else outside once.

    Where the unit switched every rule of it off, it is told and nothing more.
    """
    rules = RULES_OF.get(told.key)
    if rules is not None and told.verdict is Verdict.WITHIN:
        return _half_judged(told, rules, watched)
    if rules is None or told.verdict not in (Verdict.OUTSIDE, Verdict.OUTSIDE_ONCE):
        return told
    if not any((known := policy.rules.get(key)) and known.on for key in rules):
        return replace(told, verdict=Verdict.NOTED)
    is_open = any(
        flag.open and flag.rule in rules and flag.side == told.side for flag in watched.flags
    )
    return replace(told, verdict=Verdict.OUTSIDE if is_open else Verdict.OUTSIDE_ONCE)


def _half_judged(told: Statement, rules: frozenset[str], watched: Watched) -> Statement:
    """Within by one of a limit's values and not done by another, such as a set volume inside whose
    measured one nobody has: a part that was tried and not done keeps the whole from being within.
    """
    for each in watched.not_evaluable:
        tried = each.at is not None and told.at is not None and each.at >= told.at
        if tried and each.rule in rules and each.kind is Unjudged.NOT_DONE:
            return replace(
                told,
                verdict=Verdict.NOT_DONE,
                reason=each.reason,
                shown="",
                times=(),
                holds_until=None,
                last_shown=told.shown,
                last_at=told.at,
            )
    return told


def _plain_flags(told: Sequence[Statement], policy: Policy) -> Iterator[FlagNow]:
    for entry in told:
        if entry.verdict is not Verdict.OUTSIDE or entry.limit is None or entry.at is None:
            continue
        newest = Value(entry.at, entry.shown)
        flag = Flag(
            group=entry.group,
            rule=entry.key,
            series=entry.key,
            raised_at=entry.times[-2],
            cleared_at=None,
            values=(newest,),
            side=entry.side,
            against=f"{entry.limit:f}",
            drift=False,
            sentence="The value lay outside its limit in two values in a row.",
            source=entry.source,
            would_clear="one value inside the limit",
            policy_version=policy.version,
        )
        yield FlagNow(flag, newest, entry.corrected)


def _plain_once(told: Sequence[Statement]) -> Iterator[OnceNow]:
    for entry in told:
        if entry.verdict is Verdict.OUTSIDE_ONCE and entry.limit is not None and entry.at:
            once = Once(
                entry.group,
                entry.key,
                entry.key,
                Value(entry.at, entry.shown),
                entry.side,
                f"{entry.limit:f}",
                entry.source,
                entry.at + READ_AGAIN,
            )
            yield OnceNow(once, entry.corrected)


def _once_now(once: Once, corrected: "_Corrected") -> OnceNow:
    return OnceNow(once, once.value.at in corrected.of(once.series))


class _Corrected:
    """At which times a field's value was put right."""

    def __init__(self, facts: CourseFacts) -> None:
        self._at: dict[str, set[object]] = {}
        for row in facts.standing:
            for code in row.corrected:
                self._at.setdefault(code, set()).add(row.observed_at)

    def of(self, series: str) -> set[object]:
        """The times for a series: those of every field that it is read from."""
        found: set[object] = set()
        for code in READ_FROM.get(series, (series,)):
            found |= self._at.get(code, set())
        return found
