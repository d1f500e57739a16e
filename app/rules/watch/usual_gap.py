"""How far the peak usually lies above the plateau, while the breath is given the same way.

A plateau is charted less often than a peak. Where none was, the peak less this distance stands in
for it beside the dynamic compliance; it is never shown, judged by a limit or stored.
"""

from statistics import median

from app.rules.watch.seen import Seen

KEPT, LEAST = 8, 3
"""Distances that are remembered, and how many make one usual (engineering judgement)."""

_BREATH = ("flow_rate_set", "flow_pattern", "inspiratory_time_set")


class UsualGap:
    """Walks a course and remembers the distances of its valid plateaus."""

    def __init__(self) -> None:
        self._gaps: list[float] = []
        self._breath: tuple[object, ...] = ()

    def before(self, seen: Seen, tube: object) -> float | None:
        """The usual distance up to this row; None with too few, or when the breath is another."""
        settings = seen.moment.settings
        held = [settings.get(code) for code in _BREATH]
        breath = (
            tube,
            seen.moment.family,
            *((each.number, each.word) if each is not None else None for each in held),
        )
        if breath != self._breath:
            self._breath = breath
            self._gaps.clear()
        return median(self._gaps) if len(self._gaps) >= LEAST else None

    def after(self, seen: Seen) -> None:
        """Take over the distance of a row whose plateau counts."""
        peak, plateau = seen.number("peak_inspiratory_pressure_obs"), seen.values.get("plateau")
        if peak is None or plateau is None or "compliance" not in seen.values:
            return
        self._gaps.append(float(peak) - plateau)
        del self._gaps[:-KEPT]
