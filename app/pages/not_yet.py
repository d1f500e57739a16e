"""What an intake left open: each missing part with the page that completes it."""

from collections.abc import Iterator

from app.charting.course import body_known
from app.charting.facts import CourseFacts, Kind, Targets
from app.charting.liberation import OPEN_AFTER
from app.pages.frame import NavLink


def not_yet(facts: CourseFacts, *, may_chart: bool = True) -> tuple[NavLink, ...]:
    """The parts that nobody has filled in, in the order of an intake; none for an ended course.

    Whoever may not chart reads what is missing and is led nowhere.
    """
    if facts.ended_at is not None or facts.origin == "import":
        return ()
    base = f"/courses/{facts.course_id}"
    return tuple(
        NavLink(label, f"{base}/{path}" if may_chart else "") for label, path in _open_parts(facts)
    )


def _open_parts(facts: CourseFacts) -> Iterator[tuple[str, str]]:
    if facts.age_y is None:
        yield "age", "who"
    body = body_known(facts)
    if body is None or body.height_cm is None:
        yield "height", "height"
    elif body.pbw_sex not in ("M", "F"):
        yield "sex for the weight formula", "height"
    if not facts.airways:
        yield "airway", "airway"
    if not _has_orders(facts.targets):
        yield "ordered targets", "targets"
    is_open = {task.rule for task in facts.tasks if task.is_open}
    for rule, label in OPEN_AFTER.items():
        if rule in is_open:
            yield label[0].lower() + label[1:], "liberation?act=told"
    yield from _gear(facts)
    if not any(row.kind is Kind.FULL for row in facts.standing):
        yield "first check", "assess"


def _gear(facts: CourseFacts) -> Iterator[tuple[str, str]]:
    latest = facts.latest_readings()
    if "device_id" not in latest:
        yield "machine", "machine"
    if "pre_use_check_passed_at" not in latest:
        yield "pre-use check", "machine"


def _has_orders(ordered: Targets) -> bool:
    return any(
        low is not None
        for low in (
            ordered.spo2_low,
            ordered.pao2_low,
            ordered.ph_low,
            ordered.paco2_low,
            ordered.tidal_volume_ml_kg,
        )
    )
