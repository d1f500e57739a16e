"""Passwords: how they are kept, and that a missing one costs as much as a wrong one."""

import pytest
from argon2 import Parameters, Type, extract_parameters
from argon2.profiles import CHEAPEST

from app.actions.passwords import Passwords, complaint_about

CHEAP = Passwords(CHEAPEST)


def test_the_cost_is_the_low_memory_profile_of_rfc_9106():
    """RFC 9106, section 4, second recommended option: Argon2id, t=3, p=4, m=2^16 KiB."""
    cost = extract_parameters(Passwords().hash("larch and cedar 7"))
    assert (cost.type, cost.time_cost, cost.parallelism, cost.memory_cost) == (Type.ID, 3, 4, 65536)
    assert (cost.salt_len, cost.hash_len) == (16, 32)


def test_the_right_password_matches_and_another_does_not():
    kept = CHEAP.hash("larch and cedar 7")
    assert CHEAP.matches(kept, "larch and cedar 7")
    assert not CHEAP.matches(kept, "larch and cedar 8")


def test_the_same_password_is_never_kept_the_same_way_twice():
    assert CHEAP.hash("larch and cedar 7") != CHEAP.hash("larch and cedar 7")


@pytest.mark.parametrize(
    "kept", ["", "plain", "$argon2i$v=19$m=8,t=1,p=1$c2FsdA$aGFzaA", "$argon2id$"]
)
def test_a_hash_that_cannot_be_used_matches_nothing(kept: str):
    assert not CHEAP.matches(kept, "nobody signs in with this")


def test_only_a_hash_of_another_cost_is_outdated():
    dearer = Passwords(Parameters(Type.ID, 19, 16, 32, 2, 16, 1))
    kept = CHEAP.hash("larch and cedar 7")
    assert (CHEAP.is_outdated(kept), dearer.is_outdated(kept)) == (False, True)


@pytest.mark.parametrize(
    ("password", "complaint"),
    [
        ("abcdefghi", "at least 10 characters are needed"),
        ("abcdefghij", ""),
        ("abcdefgh" * 25, ""),
        ("abcdefgh" * 25 + "x", "at most 200 characters are kept"),
        ("", "at least 10 characters are needed"),
        ("aaaaabbbbb", "it repeats a few characters"),
        ("aabbccddee", ""),
    ],
)
def test_a_new_password_is_long_enough_and_no_repetition(password: str, complaint: str):
    assert complaint_about(password) == complaint
