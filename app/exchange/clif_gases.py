"""Blood samples from laboratory values: what was drawn in the same minute is one sample."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Final

from msgspec import Struct

from app.exchange.clif_columns import ARTERIAL, VENOUS
from app.exchange.clif_rows import Finding

VENOUS_TWINS: Final[Mapping[str, tuple[str, ...]]] = {
    "ph_arterial": ("ph_venous",),
    "pco2_arterial": ("pco2_venous",),
    "so2_arterial": ("so2_mixed_venous", "so2_central_venous"),
}
"""The same quantity coded as venous."""


class Sample(Struct, frozen=True):
    """One sample: its first value per category, and whether it was arterial or is unknown."""

    at: datetime
    specimen: str
    values: Mapping[str, Finding]
    conflicts: tuple[tuple[Finding, Finding], ...] = ()
    """Kept and left, where one minute holds two different values of one category."""


def samples_of(labs: Iterable[Finding]) -> tuple[Sample, ...]:
    """One stay's samples with at least one arterial category, oldest first.

    A sample that shares a value with a venous one of the same minute is of unknown specimen
    (decision 25: the specimen is asked, never assumed).
    """
    drawn: dict[datetime, list[Finding]] = defaultdict(list)
    for lab in labs:
        drawn[lab.at.replace(second=0, microsecond=0)].append(lab)
    samples = (_sample(drawn[at]) for at in sorted(drawn))
    return tuple(sample for sample in samples if any(name in sample.values for name in ARTERIAL))


def _sample(found: list[Finding]) -> Sample:
    values: dict[str, Finding] = {}
    conflicts: list[tuple[Finding, Finding]] = []
    for finding in found:
        if not finding.value:
            continue
        kept = values.setdefault(finding.category, finding)
        if kept.value != finding.value:
            conflicts.append((kept, finding))
    specimen = "unknown" if _shares_with_vein(found) else "arterial"
    charted = {name: finding for name, finding in values.items() if name not in VENOUS}
    return Sample(found[0].at, specimen, charted, tuple(conflicts))


def _shares_with_vein(found: list[Finding]) -> bool:
    seen = {(finding.category, finding.value) for finding in found}
    return any(
        (twin, finding.value) in seen
        for finding in found
        for twin in VENOUS_TWINS.get(finding.category, ())
    )
