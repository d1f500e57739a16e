"""The plateau that is overdue: in a controlled mode none was charted for so many hours.

Raised by time alone, so a moment without a row can raise it; any charted plateau ends it, and so
does a mode in which none is expected. Number: `hours`.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime

from app.rules.away import Pause, counting_on
from app.rules.watch.flags import Flag
from app.rules.watch.rule import Bounds, Rule
from app.rules.watch.sighting import Sighting
from app.rules.watch.track import Raised
from app.rules.watch.trail import Evidence, Trail
from app.rules.watch.words import flag_of

KEY = "plateau_overdue"


class Elapsed:
    """No value raises or clears this rule: time does, and a plateau ends it (see PlateauDue)."""

    def raises(self, _trail: Trail, _bounds: Bounds, /) -> Evidence | None:
        """Never."""

    def returns(self, _trail: Trail, _bounds: Bounds, _raised: Evidence, /) -> bool:
        """Never."""
        return False

    def clears(self, _trail: Trail, _bounds: Bounds, _raised: Evidence, /) -> bool:
        """Never."""
        return False

    def clearing(self, _bounds: Bounds, /) -> str:
        """What would clear it, in words."""
        return "a plateau, or a mode in which none is expected"


RULE = Rule(
    KEY,
    "safety",
    "plateau",
    "No plateau was charted in a controlled mode for longer than this unit set.",
    Elapsed(),
)


class PlateauDue:
    """Walks beside the fold and knows since when a plateau is owed."""

    def __init__(self, pauses: Sequence[Pause] = ()) -> None:
        self._pauses = pauses
        self._since: datetime | None = None
        self._bounds: Bounds | None = None
        self._version = 0
        self._flags: list[Raised] = []

    def see(self, sighting: Sighting, bounds: Bounds | None, version: int) -> None:
        """Take over one row: time passes until it, then it may bring a plateau or another mode."""
        if self._due(sighting.at) is not None:
            self._raise(sighting.at)
        self._bounds, self._version = bounds, version
        if not sighting.controlled or bounds is None:
            self._end(sighting.at)
            self._since = None
        elif "plateau" in sighting.values or sighting.tried_plateau:
            self._end(sighting.at)
            self._since = sighting.at
        elif self._since is None:
            self._since = sighting.at

    def _due(self, now: datetime) -> datetime | None:
        """When it became overdue, if it is by now and was not said yet; pauses do not count."""
        if self._since is None or self._bounds is None or self._open is not None:
            return None
        due = counting_on(self._since, self._bounds.figures["hours"], self._pauses)
        return due if due is not None and due <= now else None

    @property
    def _open(self) -> Raised | None:
        flag = self._flags[-1] if self._flags else None
        return flag if flag is not None and flag.cleared_at is None else None

    def _raise(self, now: datetime) -> None:
        flag = self._raised(now)
        if flag is not None:
            self._flags.append(flag)

    def _raised(self, now: datetime) -> Raised | None:
        due = self._due(now)
        if due is None or self._bounds is None:
            return None
        hours = self._bounds.figures["hours"]
        return Raised(Evidence((), "over", hours), self._bounds, self._version, due)

    def _end(self, at: datetime) -> None:
        if self._open is not None:
            self._open.clear(at, 0)

    def flags(self, now: datetime) -> Iterator[Flag]:
        """The flags so far, and one that time alone has raised by now; nothing is remembered."""
        late = self._raised(now)
        for flag in (*self._flags, *((late,) if late is not None else ())):
            yield flag_of(RULE, flag)
