"""A clock that stands still until a test moves it."""

from datetime import UTC, datetime, timedelta


class Clock:
    """Call it for the time; `forward(minutes=5)` moves it. It starts on a Monday morning."""

    def __init__(self, now: datetime = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def forward(self, **by: float) -> datetime:
        self.now += timedelta(**by)
        return self.now
