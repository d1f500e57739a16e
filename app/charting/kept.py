"""Things that are kept of courses from one asking to the next, the least used forgotten first."""

from threading import Lock
from typing import Generic, TypeVar

from cachetools import LRUCache

T = TypeVar("T")


class Kept(Generic[T]):
    """One thing for each course; safe to share between threads.

    What never changes is found and shared. What may change is taken out while it is used: whoever
    comes meanwhile begins anew.
    """

    def __init__(self, most: int) -> None:
        self._kept: LRUCache[str, T] = LRUCache(most)
        self._one_at_a_time = Lock()

    def find(self, course_id: str) -> T | None:
        """What is kept of a course, and stays kept."""
        with self._one_at_a_time:
            return self._kept.get(course_id)

    def take(self, course_id: str) -> T | None:
        """What is kept of a course, which is then nobody else's."""
        with self._one_at_a_time:
            return self._kept.pop(course_id, None)

    def keep(self, course_id: str, thing: T) -> None:
        """Keep it until it is asked for again."""
        with self._one_at_a_time:
            self._kept[course_id] = thing
