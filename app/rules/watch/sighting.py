"""One row of a course as the rules see it: a number for each series, or why there is none.

A limit's series holds the number as displayed (decision 3); a drift's series compares like with
like and always uses set PEEP and, where the mode sets the volume, set volume (decision 4). What
holds and what does not is decided by the indices of `charting.derive`, never again here.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from itertools import islice, pairwise

from msgspec import Struct, field
from msgspec.structs import replace

from app.charting.course import moments
from app.charting.facts import Assessment, CourseFacts, Kind
from app.rules.policy import Policy
from app.rules.watch.breath import breath_series
from app.rules.watch.carried import Carried
from app.rules.watch.gas import gas_series
from app.rules.watch.policies import Policies, in_time
from app.rules.watch.safe import safety_series
from app.rules.watch.seen import Seen


class Sighting(Struct, frozen=True):
    """What one row says to the rules.

    `values` holds a number for each series, `why` the reason and whether it could apply at all for
    a series that the row tried and could not give. `around` is what a baseline stands on (the tube,
    the mode family, PEEP ...). `quiet` names the groups whose drift rules look away from this row.
    `controlled` says whether a plateau is expected in this mode.
    """

    at: datetime
    kind: Kind
    values: Mapping[str, float]
    why: Mapping[str, tuple[str, bool]] = field(default_factory=dict)
    around: Mapping[str, float | str] = field(default_factory=dict)
    quiet: frozenset[str] = frozenset()
    controlled: bool = False
    band_low: Decimal | None = None
    """The lower end of the SpO2 band ordered for this patient."""
    tried_plateau: bool = False
    """Whether a plateau was charted, valid or not."""
    tubeless: bool = False
    """Whether a tube had come out by then and none is in place."""
    child: bool = False
    """Whether the patient was under the adult age of that moment: then the row says nothing."""


def sightings(facts: CourseFacts, policies: Policies | Policy) -> Iterator[Sighting]:
    """Each row that counts, oldest first. A child's rows say nothing: adult rules are off."""
    ordered = replace(facts, assessments=in_order(facts.standing))
    yield from sightings_from(ordered, in_time(policies), Carried(ordered))


def sightings_from(
    ordered: CourseFacts, policies: Policies, carried: Carried, rows: int = 0
) -> Iterator[Sighting]:
    """The rows behind the first `rows`, over which `carried` has walked; the rows are in order."""
    for moment in islice(moments(ordered, policies.site), rows, None):
        seen, row = carried.seen(moment), moment.row
        if moment.child:
            yield Sighting(row.observed_at, row.kind, {}, child=True)
        else:
            yield _sighting(seen, carried, policies.at(row.observed_at))


def _sighting(seen: Seen, carried: Carried, policy: Policy) -> Sighting:
    if seen.moment.is_gas:
        gas_series(seen)
    else:
        breath_series(seen)
    safety_series(seen, policy.fresh_tracheostomy_days)
    return Sighting(
        seen.row.observed_at,
        seen.row.kind,
        seen.values,
        seen.why,
        carried.around(seen),
        carried.quiet(seen),
        seen.family.controlled,
        seen.targets.spo2_low,
        "plateau_pressure_obs" in seen.row.readings
        and seen.row.readings["plateau_pressure_obs"].has_value,
        carried.tubeless,
    )


def in_order(rows: Sequence[Assessment]) -> tuple[Assessment, ...]:
    """Oldest first, rows of one moment by what they say: the order of saving is no matter."""
    times = [row.observed_at for row in rows]
    if all(earlier < later for earlier, later in pairwise(times)):
        return tuple(rows)
    return tuple(sorted(rows, key=_place))


def _place(row: Assessment) -> tuple[datetime, str, str, list[tuple[str, str, Decimal]]]:
    said = [
        (code, f"{reading.state}{reading.word}{reading.reason}", reading.number or Decimal(0))
        for code, reading in sorted(row.readings.items())
    ]
    return row.observed_at, row.kind.value, row.mode_family, said
