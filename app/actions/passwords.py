"""Passwords: hashed with Argon2id, and checked in the same time whether a name exists or not."""

from argon2 import Parameters, PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError, VerifyMismatchError
from argon2.profiles import RFC_9106_LOW_MEMORY

SHORTEST = 10
"""Characters of a new password; length is asked for, a mix of kinds is not (NIST SP 800-63B, from
memory: it counsels length over composition; the number is engineering judgement)."""

LONGEST = 200
"""Characters that are hashed: an endless one would be work for nothing."""


class Passwords:
    """Hashes and checks passwords at one cost.

    The default cost is the low-memory profile of RFC 9106, section 4: 64 MiB, three passes.
    """

    def __init__(self, cost: Parameters = RFC_9106_LOW_MEMORY) -> None:
        self._hasher = PasswordHasher.from_parameters(cost)
        self._nobodys = self._hasher.hash("nobody signs in with this")

    def hash(self, password: str) -> str:
        """The hash to keep; salted, so never the same twice."""
        return self._hasher.hash(password)

    def matches(self, kept_hash: str, password: str) -> bool:
        """Whether the password is the one behind the hash.

        An empty or foreign hash gives False after the same work, so that the time which an answer
        takes does not tell which names exist.
        """
        usable = kept_hash.startswith("$argon2id$")
        try:
            self._hasher.verify(kept_hash if usable else self._nobodys, password)
        except (VerifyMismatchError, VerificationError, InvalidHashError):
            return False
        return usable

    def is_outdated(self, kept_hash: str) -> bool:
        """Whether the hash was made at another cost than today's."""
        return self._hasher.check_needs_rehash(kept_hash)


def complaint_about(password: str) -> str:
    """Why a new password cannot be taken; empty when it can."""
    if len(password) < SHORTEST:
        return f"at least {SHORTEST} characters are needed"
    if len(password) > LONGEST:
        return f"at most {LONGEST} characters are kept"
    if len(set(password)) < SHORTEST // 2:
        return "it repeats a few characters"
    return ""
