"""Turns come in the order in which they were asked for."""

from threading import Thread
from time import monotonic, sleep

from app.record.turns import Turns

SOON_S, LONG_S = 0.05, 10.0


def waiting(turns: Turns) -> int:
    return len(turns._waiting)


def ask(turns: Turns, name: int, came: list[int]) -> Thread:
    """Somebody who waits for a turn; returns once they stand in the row."""
    before = waiting(turns)

    def wait() -> None:
        assert turns.take(LONG_S)
        came.append(name)
        turns.give_back()

    thread = Thread(target=wait)
    thread.start()
    until = monotonic() + LONG_S
    while waiting(turns) == before and monotonic() < until:
        sleep(0.001)
    return thread


def test_whoever_waits_longest_is_next():
    turns, came = Turns(), []
    assert turns.take(SOON_S)
    people = [ask(turns, name, came) for name in range(8)]
    turns.give_back()
    for each in people:
        each.join(LONG_S)
    assert came == list(range(8))


def test_a_turn_that_does_not_come_in_time_is_given_up():
    turns = Turns()
    assert turns.take(SOON_S)
    assert not turns.take(SOON_S)
    assert waiting(turns) == 0
    turns.give_back()
    assert turns.take(SOON_S)


def test_whoever_gave_up_holds_nobody_up():
    turns, came = Turns(), []
    assert turns.take(SOON_S)
    gone = Thread(target=turns.take, args=(SOON_S,))
    gone.start()
    behind = ask(turns, 1, came)
    gone.join(LONG_S)
    turns.give_back()
    behind.join(LONG_S)
    assert came == [1]
