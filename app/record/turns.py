"""Turns to write: given in the order in which they were asked for, so that nobody waits far longer.

A lock of the standard library goes to whoever comes by when it is free; under eight people who
save at the same time some would wait for thirty others.
"""

from collections import deque
from threading import Event, Lock


class Turns:
    """One turn at a time; safe between threads of one process."""

    def __init__(self) -> None:
        self._guard = Lock()
        self._taken = False
        self._waiting: deque[Event] = deque()

    def take(self, within_s: float) -> bool:
        """Wait for the turn; False when it did not come in time. Whoever got it gives it back."""
        with self._guard:
            if not self._taken:
                self._taken = True
                return True
            called = Event()
            self._waiting.append(called)
        if called.wait(within_s):
            return True
        with self._guard:
            if called.is_set():  # it came while the wait ended
                return True
            self._waiting.remove(called)
            return False

    def give_back(self) -> None:
        """Hand the turn to whoever has waited longest."""
        with self._guard:
            if self._waiting:
                self._waiting.popleft().set()
            else:
                self._taken = False
