"""Which policy was in force when, and what was ordered otherwise for one patient (decision 13)."""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from functools import cached_property

from msgspec import Struct
from msgspec.structs import replace

from app.charting.site_figures import SiteFigures, SiteInTime
from app.rules.policy import Limit, Policy
from app.rules.policy_error import PolicyError
from app.rules.watch.rule import Bounds

InUse = Mapping[str, Bounds | None]
"""A rule's key to its numbers; None where the unit does not use it."""


class Override(Struct, frozen=True):
    """Another range for one patient: which limit, its ends, from when until when, why and whose.

    Refused without a reason or without who ordered it: an unexplained range is no order.
    """

    limit: str
    under: Decimal | None
    over: Decimal | None
    from_at: datetime
    reason: str
    ordered_by: str
    until: datetime | None = None

    def __post_init__(self) -> None:
        if not self.reason.strip() or not self.ordered_by.strip():
            raise PolicyError(f"override.{self.limit}", "needs a reason and who ordered it")

    def holds(self, at: datetime) -> bool:
        """Whether it is in force at a moment."""
        return self.from_at <= at and (self.until is None or at < self.until)

    def of(self, limit: Limit) -> Limit:
        """The unit's limit with this patient's ends and the order as its source."""
        source = f"This patient's own range, ordered by {self.ordered_by}: {self.reason}"
        source = source if source.endswith((".", "!", "?")) else f"{source}."
        return replace(
            limit,
            under=self.under,
            over=self.over,
            source=source,
            of_patient=False,
            ordered_by=self.ordered_by,
        )


class InForceFrom(Struct, frozen=True):
    """One version of the unit's policy and the moment from which it held."""

    from_at: datetime
    policy: Policy


class Policies:
    """The unit's policies in time, with one patient's overrides; the first holds from ever."""

    def __init__(
        self, versions: Sequence[InForceFrom] | Policy, overrides: Sequence[Override] = ()
    ) -> None:
        if isinstance(versions, Policy):
            self._only: Policy | None = versions if not overrides else None
            self._versions: tuple[InForceFrom, ...] = ()
            self._first = versions
        else:
            if not versions:
                raise ValueError("at least one policy must be in force")
            self._versions = tuple(
                sorted(versions, key=lambda each: (each.policy.version, each.from_at))
            )
            self._first = self._versions[0].policy
            self._only = self._first if len(versions) == 1 and not overrides else None
        self._overrides = tuple(sorted(overrides, key=lambda override: override.from_at))
        self._made: dict[tuple[int, tuple[int, ...]], Policy] = {}
        self._in_use: dict[tuple[int, Decimal | None], InUse] = {}

    def with_overrides(self, overrides: Sequence[Override]) -> "Policies":
        """The same versions with one patient's overrides."""
        return Policies(self._versions or self._first, overrides)

    @property
    def changed_at(self) -> tuple[datetime, ...]:
        """The moments from which another policy, or another range for this patient, may hold."""
        versions = [version.from_at for version in self._versions]
        orders = [at for each in self._overrides for at in (each.from_at, each.until) if at]
        return tuple(sorted({*versions, *orders}))

    @cached_property
    def site(self) -> SiteInTime:
        """The adult age and barometric pressure of each moment; a version that leaves both as they
        were changes nothing here."""
        first = held = _site_of(self._first)
        later: list[tuple[datetime, SiteFigures]] = []
        for from_at in sorted({version.from_at for version in self._versions}):
            figures = _site_of(self._of_unit(from_at))
            if figures != held:
                later.append((from_at, figures))
            held = figures
        return SiteInTime(first, tuple(later))

    def at(self, moment: datetime) -> Policy:
        """The policy in force at a moment, this patient's own limits in place of the unit's."""
        if self._only is not None:
            return self._only
        policy = self._of_unit(moment)
        holding = tuple(n for n, order in enumerate(self._overrides) if order.holds(moment))
        key = (id(policy), holding)
        if key not in self._made:
            self._made[key] = self._with(policy, holding)
        return self._made[key]

    def _of_unit(self, moment: datetime) -> Policy:
        policy = self._first
        for version in self._versions:  # the highest that had come into force, as everywhere
            if version.from_at <= moment:
                policy = version.policy
        return policy

    def in_use(
        self,
        policy: Policy,
        band: Decimal | None,
        make: Callable[[Policy, Decimal | None], InUse],
    ) -> InUse:
        """Every rule's numbers under one of these policies and a patient's band, made once."""
        key = (id(policy), band)
        if key not in self._in_use:
            self._in_use[key] = make(policy, band)
        return self._in_use[key]

    def _with(self, policy: Policy, holding: tuple[int, ...]) -> Policy:
        limits: Mapping[str, Limit] = policy.limits
        for number in holding:
            order = self._overrides[number]
            if order.limit in limits:
                limits = {**limits, order.limit: order.of(limits[order.limit])}
        return replace(policy, limits=limits) if holding else policy


def in_time(policies: Policies | Policy) -> Policies:
    """The policies themselves, or the only one there ever was."""
    return policies if isinstance(policies, Policies) else Policies(policies)


def _site_of(policy: Policy) -> SiteFigures:
    return SiteFigures(policy.adult_age_y, policy.barometric_mmhg)
