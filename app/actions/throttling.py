"""How long to wait after failed sign-ins: slowly longer for a guesser, never a closed door.

Only failures count, so a whole shift that signs in from one address passes. Every wait ends, so
nobody is locked out by somebody else's guesses. Numbers are engineering judgement.
"""

import hashlib
from datetime import datetime, timedelta

from msgspec import Struct

FORGOTTEN_AFTER = timedelta(minutes=15)
"""Failures are forgotten this long after the last wait ended."""


class Bound(Struct, frozen=True):
    """From how many failures on somebody waits, and how long at most."""

    free: int
    longest: timedelta

    def wait(self, failures: int) -> timedelta:
        """None within the free ones, then 1 s, 2 s, 4 s ... up to the longest."""
        beyond = failures - self.free
        if beyond <= 0:
            return timedelta()
        return min(self.longest, timedelta(seconds=2 ** min(beyond - 1, 20)))


NAME_FROM_ADDRESS = Bound(free=4, longest=timedelta(seconds=60))
"""One name tried from one address."""

NAME = Bound(free=20, longest=timedelta(seconds=30))
"""One name tried from anywhere: many addresses do not buy many more tries."""

ADDRESS = Bound(free=60, longest=timedelta(seconds=10))
"""Any name tried from one address, which may be the only one that a hospital shows."""


def bounds_of(sign_in_name: str, address: str) -> dict[str, Bound]:
    """The keys that one attempt counts under; a key tells neither name nor address."""
    name = sign_in_name.casefold()
    return {
        _key("name-from-address", name, address): NAME_FROM_ADDRESS,
        _key("name", name): NAME,
        _key("address", address): ADDRESS,
    }


def failures_left(failures: int, until: datetime | None, now: datetime) -> int:
    """How many earlier failures still count."""
    return 0 if until is None or now - until >= FORGOTTEN_AFTER else failures


def _key(kind: str, *parts: str) -> str:
    return f"{kind}:{hashlib.sha256(chr(0).join(parts).encode()).hexdigest()}"
