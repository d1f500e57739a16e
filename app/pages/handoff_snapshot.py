"""What an offer freezes: the page as it is known at that moment, for whoever reads it later."""

from app.pages.handoff import sections_of
from app.pages.handoff_page import SnapshotPage
from app.pages.known import Known
from app.pages.times import full_time

LEFT_OUT = frozenset({"restated"})
"""Question, answer and restatement come after the offer; they are steps of their own."""


def snapshot_page(
    course: Known, *, version: int, giver: str, offered_by: str, to: str
) -> SnapshotPage:
    """The page without forms, tokens and ages; every moment is written out."""
    at = full_time(course.now, course.clock).text
    by = offered_by if offered_by == giver else f"{offered_by} for {giver}"
    return SnapshotPage(
        banner=course.banner,
        version_words=f"Version {version}, offered by {by} to {to or 'whoever comes'}, {at}",
        policy_words=f"Judged by {course.policy.words}",
        sections=tuple(
            section
            for section in sections_of(course, editable=False)
            if section.key not in LEFT_OUT
        ),
        course_id=course.facts.course_id,
        version=version,
    )
