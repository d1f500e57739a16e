"""From a course's rows to index answers, each open to the readings it stands on.

Every number comes from the catalogue's own function, so a page, a limit and a file of cases never
disagree. What rules an index out in charting (a child, a blood gas row, no tube) is said here; the
rest is said by the arithmetic itself.
"""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from msgspec.structs import replace

from app.charting.course import moments
from app.charting.facts import Assessment, CourseFacts, Reading, State
from app.charting.field import Use
from app.charting.moment import FRESH_OXYGEN, Moment
from app.charting.reasons import not_done
from app.charting.site_figures import ANYWHERE, SiteInTime
from app.charting.terms import Origin, Term, Terms, Told, WorkedOut, terms_of
from app.charting.uses import use_of
from app.physiology.answer import Answer, NotAvailable, Query, Value, Verdict
from app.physiology.catalogue import CATALOGUE, ON_THE_BOARD, Index

__all__ = [
    "CHARTED",
    "NOT_READ",
    "OF_A_BREATH",
    "OF_A_HOLD",
    "ON_THE_BOARD",
    "Told",
    "WorkedOut",
    "work_out",
    "work_out_course",
]

GAS_INDICES = (
    "pf_ratio",
    "berlin_class",
    "oxygenation_index",
    "ventilatory_ratio",
    "alveolar_po2",
    "aa_gradient",
    "dead_space_enghoff",
)
"""Indices that a blood gas row answers; every other one belongs to a check."""

CHARTED: tuple[str, ...] = tuple(
    key
    for key in CATALOGUE
    if key in GAS_INDICES
    or key
    in (
        *ON_THE_BOARD,
        "time_constant",
        "rsbi",
        "sf_ratio",
        "sf_class",
        "oxygen_saturation_index",
        "mechanical_power",
        "rox",
    )
)
"""The indices that can be charted, in the catalogue's order; every row answers every one."""

_CHARTED = frozenset(CHARTED)
OF_A_HOLD = frozenset(
    {"driving_pressure", "compliance_static", "airway_resistance", "auto_peep", "time_constant"}
)
_NEEDS_A_MODE = OF_A_HOLD | {
    "compliance_dynamic",
    "ie_ratio",
    "expiratory_time",
    "mechanical_power",
    "ventilatory_ratio",
}
_OF_A_VOLUME = frozenset(
    {"vt_per_pbw", "minute_ventilation", "compliance_dynamic", "mechanical_power", "rsbi"}
)
_NO_TUBE = frozenset({"mask", "nasal_cannula", "none"})
OF_A_BREATH = _NEEDS_A_MODE | _OF_A_VOLUME
"""What is worked out from the breaths of a machine."""
_ADULT_INDICES = frozenset(
    key for key in CHARTED if any(term.name == "age_y" for term in CATALOGUE[key].inputs)
)
_NOTHING: frozenset[str] = frozenset()
NOT_READ = {
    "ie_ratio": frozenset({"vte"}),
    "expiratory_time": frozenset({"vte"}),
    "vt_per_pbw": frozenset({"rr"}),
    "compliance_static": frozenset({"rr"}),
    "compliance_dynamic": frozenset({"rr"}),
}
"""Inputs that the catalogue names and charting keeps from an index: an inspiratory time from the
flow is that of the volume that was set, not of what came back; and a rate beside a volume only
serves to doubt a minute volume, which no bedside index is given."""

_FROM_ANOTHER = {
    "time_constant": {"resistance": "airway_resistance", "compliance": "compliance_static"},
    "berlin_class": {"pf": "pf_ratio"},
    "sf_class": {"sf": "sf_ratio"},
}
"""Inputs that are an index themselves; CATALOGUE order puts those first."""

_SAID = {
    "pplat": "plateau",
    "peep_total": "total PEEP",
    "ppeak": "peak pressure",
    "pmean": "mean airway pressure",
    "vte": "tidal volume",
    "vt": "tidal volume",
    "rr": "total rate",
    "spo2": "SpO2",
    "pao2": "PaO2",
    "paco2": "PaCO2",
    "sample": "specimen",
}


def work_out(moment: Moment, keys: Sequence[str] = CHARTED) -> Mapping[str, WorkedOut]:
    """Charted indices at one moment: a value, or why there is none.

    `keys` are those wanted, in CHARTED's order; one that borrows from another needs that one too.
    """
    terms = terms_of(moment)
    done: dict[str, WorkedOut] = {}
    for key in keys:
        done[key] = _ruled_out(key, moment) or _worked(CATALOGUE[key], moment, terms, done)
    return done


class Answers(Mapping[str, WorkedOut]):
    """Every charted index at one moment, each worked out when it is first asked for.

    A summary asks a long course's older rows for next to nothing.
    """

    def __init__(self, moment: Moment) -> None:
        self.moment = moment
        self._terms: Terms | None = None
        self._done: dict[str, WorkedOut] = {}

    def __getitem__(self, key: str) -> WorkedOut:
        """The answer; raises KeyError for what is not charted."""
        if key not in self._done:
            self._done[key] = self._work_out(key)
        return self._done[key]

    def __iter__(self) -> Iterator[str]:
        """The keys, in CHARTED's order."""
        return iter(CHARTED)

    def __len__(self) -> int:
        """How many indices can be charted."""
        return len(CHARTED)

    def _work_out(self, key: str) -> WorkedOut:
        if key not in _CHARTED:
            raise KeyError(key)
        ruled_out = _ruled_out(key, self.moment)
        if ruled_out is not None:
            return ruled_out
        if self._terms is None:
            self._terms = terms_of(self.moment)
        return _worked(CATALOGUE[key], self.moment, self._terms, self)


def work_out_course(
    facts: CourseFacts, site: SiteInTime = ANYWHERE
) -> tuple[tuple[Assessment, Mapping[str, WorkedOut]], ...]:
    """Every row that counts, oldest first, with its answers; one pass, linear in the rows."""
    return tuple((moment.row, _answers(moment)) for moment in moments(facts, site))


MOST_KEPT = 20_000
"""Rows whose answers are kept, some 10 KB each once all were asked for; then all are forgotten."""

_kept: dict[str, Answers] = {}


def _answers(moment: Moment) -> Answers:
    """The answers of an equal moment of this row, where there was one: they are the same."""
    kept = _kept.get(moment.row.id)
    if kept is not None and (kept.moment is moment or kept.moment == moment):
        return kept
    if len(_kept) >= MOST_KEPT:
        _kept.clear()
    answers = _kept[moment.row.id] = Answers(moment)
    return answers


def _closed(reason: str, *missing: str, applicable: bool = True) -> WorkedOut:
    return WorkedOut(NotAvailable(reason, missing, applicable), {})


_OF_A_CHECK = _closed("not part of a blood gas", applicable=False)
_OF_A_GAS = _closed("needs a blood gas")
_NO_MODE = _closed("mode is not known", "family")
_NO_VOLUME = _closed("no tidal volume is read in this mode", applicable=False)
_TUBELESS = _closed("no tube: a hold means nothing here", applicable=False)


def _ruled_out(key: str, moment: Moment) -> WorkedOut | None:
    """Why charting itself gives no answer; None where the arithmetic is to be asked."""
    if moment.is_gas and key not in GAS_INDICES and key != "pbw":
        return _OF_A_CHECK
    if not moment.is_gas and key in GAS_INDICES:
        return _OF_A_GAS
    if moment.child and key in _ADULT_INDICES:
        told = f"adult index: not used under {moment.adult_age_y} years"
        return _closed(told, applicable=False)
    if not moment.family and key in _NEEDS_A_MODE:
        return _NO_MODE
    if key in _OF_A_VOLUME and _without_a_volume(moment):
        return _NO_VOLUME
    if key in OF_A_HOLD and moment.airway_category in _NO_TUBE:
        return _TUBELESS
    return None


def _without_a_volume(moment: Moment) -> bool:
    hidden = use_of(moment.family, "tidal_volume_obs") is Use.HIDDEN
    return hidden and "tidal_volume_obs" not in moment.row.readings


def _worked(index: Index, moment: Moment, terms: Terms, done: Mapping[str, WorkedOut]) -> WorkedOut:
    borrowed = _FROM_ANOTHER.get(index.key, {})
    for name, other in borrowed.items():
        answer = done[other].answer
        if not isinstance(answer, Value):
            return WorkedOut(answer, done[other].inputs)
        terms = terms | {name: Term(_displayed(name, answer), done[other])}
    unread = NOT_READ.get(index.key, _NOTHING)
    names = [term.name for term in index.inputs if term.name not in unread and term.name in terms]
    answer = index.work_out({name: terms[name].given for name in names})
    used = answer.used if isinstance(answer, Value | Verdict) else names
    origins = {name: terms[name].origin for name in used if name in terms}
    return WorkedOut(_told(index.key, answer, moment, origins), origins)


def _displayed(name: str, answer: Value) -> Decimal:
    """A band is read from the displayed number (decision 3), a sum goes on from the exact one."""
    return Decimal(answer.shown) if name in ("pf", "sf") else answer.number


def _told(key: str, answer: Answer, moment: Moment, origins: Mapping[str, Origin]) -> Answer:
    """The answer in a chart's words: what was not done and why, which FiO2, which volume."""
    if isinstance(answer, NotAvailable):
        return replace(answer, reason=_not_done(answer, origins) or answer.reason)
    if isinstance(answer, Query):
        return Query(answer.reason.replace(_DOUBT, "the FiO2 was stale or wrong"))
    more = "; ".join(filter(None, (answer.basis, *_remarks(key, moment, origins))))
    return replace(answer, basis=more)


_DOUBT = "FiO2 at the sample?"


def _not_done(answer: NotAvailable, origins: Mapping[str, Origin]) -> str:
    for name in answer.missing:
        origin = origins.get(name) if name in _SAID else None
        if isinstance(origin, Reading) and origin.state is State.NOT_MEASURED:
            return not_done(_SAID[name], origin.reason)
    return ""


def _remarks(key: str, moment: Moment, origins: Mapping[str, Origin]) -> Iterator[str]:
    if moment.is_gas and "fio2" in origins:
        yield from _which_oxygen(moment)
    if key in ("vt_per_pbw", "minute_ventilation") and "vte" in origins:
        if moment.family == "niv":
            yield "mask leak: volume uncertain"
        elif moment.family in ("aprv", "bilevel"):
            yield "release volume"


def _which_oxygen(moment: Moment) -> Iterator[str]:
    oxygen = moment.oxygen
    if oxygen is not None and oxygen.field == "fio2_at_sample":
        yield "FiO2 as typed with the sample"
        return
    yield "FiO2 in force at the sample"
    if moment.oxygen_age is not None and moment.oxygen_age < FRESH_OXYGEN:
        minutes = int(moment.oxygen_age.total_seconds() // 60)
        yield f"FiO2 changed {minutes} min before the sample"
