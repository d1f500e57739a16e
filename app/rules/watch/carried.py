"""What stays true from row to row: tube, mode, position, and words that nobody took back."""

from datetime import datetime, timedelta
from decimal import Decimal

from app.charting.airways import has_tube, tube_since
from app.charting.facts import Airway, CourseFacts
from app.charting.in_force import airway_at, going_on
from app.charting.mode_families import family_of
from app.charting.moment import Moment
from app.physiology.answer import Value
from app.physiology.catalogue import CATALOGUE
from app.rules.watch.seen import Seen
from app.rules.watch.usual_gap import UsualGap

_WORDS = (
    "humidifier",
    "cuff_state",
    "speaking_valve",
    "secretions_consistency",
    "secretions_colour",
    "position",
    "airway_depth_reference",
    "device_id",
)
_NUMBERS_AROUND = {
    "peep": "peep_set",
    "flow": "flow_rate_set",
    "inspiratory_time": "inspiratory_time_set",
    "set_rate": "resp_rate_set",
}
WORDS_HOLD = timedelta(hours=24)
"""How long a word such as "thick" is taken to hold unsaid (engineering judgement)."""

AGITATED = 2
"""RASS from which a fast rate says nothing of the lungs."""

EVERY_DRIFT = frozenset({"mechanics", "airway", "leak", "oxygenation", "drive"})
_OFF_THE_MACHINE = ("away", "transport", "standby")
_TRIALS = ("breathing_trial", "sbt")


class Carried:
    """Walks a course beside its moments and remembers what a row leaves standing."""

    def __init__(self, facts: CourseFacts) -> None:
        self._facts = facts
        self._weights: dict[int, Decimal | None] = {}
        self._words: dict[str, tuple[str, datetime]] = {}
        self._depth: Decimal | None = None
        self._tube: Airway | None = None
        self._tube_since: datetime | None = None
        self._family: tuple[str, datetime] | None = None
        self._gap = UsualGap()

    def seen(self, moment: Moment) -> Seen:
        """The row with what is known around it."""
        row = moment.row
        for code in _WORDS:
            reading = row.readings.get(code)
            if reading is not None and reading.has_value:
                self._words[code] = (reading.word, row.observed_at)
        words = {
            code: word
            for code, (word, since) in self._words.items()
            if row.observed_at - since <= WORDS_HOLD or code in ("position", "device_id")
        }
        seen = Seen(
            moment,
            family_of(moment.family),
            self._facts.targets,
            self._weight(moment),
            moment.airway_category,
            words=words,
        )
        self._ages(seen)
        self._depths(seen)
        seen.usual_gap = self._gap.before(seen, self._tube)
        return seen

    def _ages(self, seen: Seen) -> None:
        at = seen.row.observed_at
        if self._family is None or self._family[0] != seen.moment.family:
            self._family = (seen.moment.family, at)
        seen.family_hours = (at - self._family[1]).total_seconds() / 3600
        tube = airway_at(self._facts.airways, at)
        if tube is not self._tube:
            self._tube = tube
            self._depth = tube.depth_cm if tube is not None else None
        self._tube_since = tube_since(self._facts.airways, at)
        if self._tube_since is not None:
            seen.tube_days = (at - self._tube_since).total_seconds() / 86400

    @property
    def tubeless(self) -> bool:
        """Whether an airway is charted and no tube is in place at the row seen last."""
        return self._tube is not None and not has_tube(self._tube)

    def _weight(self, moment: Moment) -> Decimal | None:
        body = moment.body
        if body is None:
            return None
        if id(body) not in self._weights:
            given = {"height": body.height_cm, "sex": body.pbw_sex}
            answer = CATALOGUE["pbw"].work_out(given)
            self._weights[id(body)] = answer.number if isinstance(answer, Value) else None
        return self._weights[id(body)]

    def _depths(self, seen: Seen) -> None:
        """How far the tube's mark stands from where it was last known to belong, cm."""
        depth = seen.number("airway_depth_cm")
        if depth is None:
            return
        if self._depth is None:
            self._depth = depth
        moved = float(abs(depth - self._depth))
        seen.values["depth_moved"] = moved
        explained = bool(seen.word("change_reason"))
        seen.values["depth_unexplained"] = 0.0 if explained else moved
        if explained:
            self._depth = depth

    def around(self, seen: Seen) -> dict[str, float | str]:
        """What a baseline stands on at this row; only what is known."""
        self._gap.after(seen)
        around: dict[str, float | str] = {}
        for name, code in _NUMBERS_AROUND.items():
            number = seen.setting(code)
            if number is not None:
                around[name] = float(number)
        pattern = seen.moment.settings.get("flow_pattern")
        if pattern is not None:
            around["flow_pattern"] = pattern.word
        if seen.moment.family:
            around["family"] = seen.moment.family
        if self._tube_since is not None:  # moved or secured anew, it is the same tube
            around["tube"] = self._tube_since.isoformat()
        for name in ("humidifier", "device_id"):
            if name in seen.words:
                around[name] = seen.words[name]
        around["prone"] = self._prone(seen)
        return around

    def _prone(self, seen: Seen) -> str:
        lying = going_on(self._facts.events, "prone", seen.row.observed_at) is not None
        return "yes" if lying or seen.words.get("position") == "prone" else "no"

    def quiet(self, seen: Seen) -> frozenset[str]:
        """Groups whose drift rules look away: all on a transport machine or away (decision 31), the
        rate during a breathing trial or agitation."""
        events, at = self._facts.events, seen.row.observed_at
        if events and any(going_on(events, kind, at) for kind in _OFF_THE_MACHINE):
            return EVERY_DRIFT
        rass = seen.number("rass")
        trial = events and any(going_on(events, kind, at) for kind in _TRIALS)
        return frozenset({"drive"}) if trial or (rass is not None and rass >= AGITATED) else _NONE


_NONE: frozenset[str] = frozenset()
