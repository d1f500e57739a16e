"""What was tried and cannot be judged, by series: missing is never within (decision 9)."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from app.rules.tubeless import NO_TUBE
from app.rules.watch.flags import NotEvaluable, Unjudged, Value
from app.rules.watch.rule import Bounds, Rule
from app.rules.watch.sighting import Sighting
from app.rules.watch.words import shown


class Judged:
    """Remembers the newest value and the newest reason of each series."""

    def __init__(self) -> None:
        self._value: dict[str, tuple[datetime, float]] = {}
        self._why: dict[str, tuple[datetime, str, bool]] = {}

    def see(self, sighting: Sighting) -> None:
        """Take over what a row gave, and what it tried and could not give."""
        at = sighting.at
        for series, value in sighting.values.items():
            self._value[series] = (at, value)
            self._why.pop(series, None)
        for series, (reason, applicable) in sighting.why.items():
            if series not in sighting.values:
                self._why[series] = (at, reason, applicable)

    def forget(self) -> None:
        """Begin anew: what was read before is no value of an adult any more."""
        self._value.clear()
        self._why.clear()

    def leave_tube(self, at: datetime, series: Iterable[str]) -> None:
        """Forget what was read through a tube that is out."""
        for each in series:
            if each in self._value or each in self._why:
                self._value.pop(each, None)
                self._why[each] = (at, NO_TUBE, False)

    def unjudged(self, rule: Rule, bounds: Bounds | None, now: datetime) -> NotEvaluable | None:
        """Why the rule's limit cannot be judged at a moment; None where it can."""
        if bounds is None or bounds.limit is None or rule.information:
            return None
        told, value = self._why.get(rule.series), self._value.get(rule.series)
        last = Value(value[0], shown(rule, value[1])) if value is not None else None
        if told is not None:
            at, reason, applicable = told
            kind = Unjudged.NOT_DONE if applicable else Unjudged.NOT_APPLICABLE
            return self._absent(rule, kind, reason, at, last)
        if value is None:
            kind = Unjudged.NOT_DONE if bounds.limit.essential else Unjudged.NOT_APPLICABLE
            return self._absent(rule, kind, "not charted yet", None, None)
        if now - value[0] >= timedelta(hours=float(bounds.limit.stale_h)):
            return self._absent(rule, Unjudged.TOO_OLD, "too old", value[0], last)
        return None

    @staticmethod
    def _absent(
        rule: Rule, kind: Unjudged, reason: str, at: datetime | None, last: Value | None
    ) -> NotEvaluable:
        return NotEvaluable(rule.group, rule.key, rule.series, kind, reason, at, last)
