"""From a rule and what raised it to the flag that explains itself."""

from decimal import Decimal

from msgspec.structs import replace

from app.physiology.display import fixed
from app.rules.policy import Policy
from app.rules.watch.beyond import Beyond
from app.rules.watch.flags import Flag, Value
from app.rules.watch.rule import Bounds, Rule
from app.rules.watch.track import Raised
from app.rules.watch.trail import Point


def bounds_of(rule: Rule, policy: Policy, band_low: Decimal | None) -> Bounds | None:
    """The rule's numbers under a policy; None where the unit does not use it or set no limit.

    A limit that is the patient's own band has that band's low end; without a band it has no end, so
    that nothing can be judged by it and this is said.
    """
    figures = policy.rules.get(rule.key)
    if figures is None or not figures.on:
        return None
    limit = policy.limits.get(rule.limit) if rule.limit else None
    if rule.limit and limit is None:
        return None
    if limit is not None and limit.of_patient and band_low is not None:
        limit = replace(limit, under=band_low, of_patient=False)
    bounds = Bounds(figures, limit)
    if not isinstance(rule.test, Beyond):
        return bounds
    calm_from, calm_to = rule.test.calm(bounds)
    return replace(bounds, calm_from=calm_from, calm_to=calm_to)


AS_TYPED = frozenset({"driving_pressure", "auto_peep"})
"""Series that have a decimal where the values typed for them carry one (decision 16)."""


def shown(rule: Rule, value: float) -> str:
    """A value of the rule's series as displayed: never rounded onto the limit that it lies over."""
    number = Decimal(repr(value))
    if rule.series in AS_TYPED:
        return fixed(number, 1).removesuffix(".0")
    return fixed(number, rule.places)


def value_of(rule: Rule, point: Point) -> Value:
    """One value with its time."""
    return Value(point.at, shown(rule, point.value))


def flag_of(rule: Rule, raised: Raised) -> Flag:
    """The flag with everything that explains it."""
    bounds, evidence = raised.bounds, raised.evidence
    return Flag(
        group=rule.group,
        rule=rule.key,
        series=rule.series,
        raised_at=raised.raised_at,
        cleared_at=raised.cleared_at,
        values=tuple(value_of(rule, point) for point in evidence.points),
        side=evidence.side,
        against=shown(rule, evidence.against),
        drift=rule.drift,
        sentence=rule.sentence,
        source=source_of(bounds),
        would_clear=rule.test.clearing(bounds),
        policy_version=raised.policy_version,
        reopened_at=tuple(raised.reopened_at),
        ended_by=raised.ended_by,
        information=rule.information,
    )


def source_of(bounds: Bounds) -> str:
    """Where the limit comes from, and where the counting does."""
    if bounds.limit is None:
        return bounds.figures.source
    return f"{bounds.limit.source} Rule: {bounds.figures.source}"
