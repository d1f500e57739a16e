"""Things that are kept of courses from one asking to the next, the least used forgotten first."""

from collections import OrderedDict
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """One thing for each course; safe to share between threads.

    It is taken out while it is used, so that it may change: whoever comes meanwhile begins anew.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, T] = OrderedDict()
        self._one_at_a_time = Lock()

    def take(self, course_id: str) -> T | None:
        """What is kept of a course, which is then nobody else's."""
        with self._one_at_a_time:
            return self._kept.pop(course_id, None)

    def keep(self, course_id: str, thing: T) -> None:
        """Keep it until it is asked for again."""
        with self._one_at_a_time:
            self._kept[course_id] = thing
            if len(self._kept) > self._most:
                self._kept.popitem(last=False)
