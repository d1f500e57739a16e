"""Invented frames, banners and small parts from which the sample pages are put together."""

from app.pages.frame import Banner, Frame, NavLink
from app.pages.shown import Beyond, Drawn, Shown, When

NOW = When("2026-11-26T07:05:00+00:00", "Thu 26 Nov, 02:05 EST")


def at(clock: str, day: int = 26) -> When:
    """A moment of the sample night by its wall clock (EST)."""
    hour, minute = clock.split(":")
    utc = int(hour) + 5
    return When(f"2026-11-{day + utc // 24}T{utc % 24:02d}:{minute}:00+00:00", clock)


def links(current: str) -> tuple[NavLink, ...]:
    names = (("Board", "/board"), ("Courses", "/courses"))
    return tuple(NavLink(label, href, label == current) for label, href in names)


def frame(title: str, current: str = "", **changes: object) -> Frame:
    given: dict[str, object] = {
        "title": f"{title} · Leeboard",
        "unit_name": "Unit Larch",
        "viewer_name": "Birch",
        "viewer_role": "respiratory therapist",
        "now": NOW,
        "links": links(current),
        "csrf": "sample-token",
        "demo": True,
    }
    return Frame(**(given | changes))  # type: ignore[arg-type]


def measured(label: str, text: str, unit: str = "", word: str = "", **more: object) -> Shown:
    return Shown(label, text, Drawn.MEASURED, unit, word, **more)  # type: ignore[arg-type]


def confirmed(label: str, text: str, unit: str = "", word: str = "", **more: object) -> Shown:
    return Shown(label, text, Drawn.CONFIRMED, unit, word, **more)  # type: ignore[arg-type]


def changed(label: str, text: str, unit: str = "", word: str = "", **more: object) -> Shown:
    return Shown(label, text, Drawn.CHANGED, unit, word, **more)  # type: ignore[arg-type]


def worked(label: str, text: str, unit: str = "", word: str = "", **more: object) -> Shown:
    return Shown(label, text, Drawn.WORKED_OUT, unit, word, **more)  # type: ignore[arg-type]


def blank(label: str, word: str = "", **more: object) -> Shown:
    return Shown(label, "", Drawn.NOT_MEASURED, "", word, **more)  # type: ignore[arg-type]


def shut(label: str, word: str = "", **more: object) -> Shown:
    return Shown(label, "", Drawn.NOT_VALID, "", word, **more)  # type: ignore[arg-type]


def nothing(label: str) -> Shown:
    return Shown(label, "", Drawn.NOTHING)


def over(label: str, text: str, word: str, **more: object) -> Shown:
    return worked(label, text, "", word, beyond=Beyond.OVER, **more)


def banner(**changes: object) -> Banner:
    given: dict[str, object] = {
        "bed": "L5",
        "moved": "",
        "name": "P-05",
        "record_number": "··4471",
        "age": "58 y",
        "sex": "F",
        "height": "168 cm, measured",
        "predicted_weight": worked(
            "Predicted weight", "59.7", "kg", key="pbw", href="/courses/5/numbers/pbw"
        ),
        "day": "Day 6",
        "day_rule": "calendar days since invasive support began, 20 Nov",
        "limits_of_care": "full treatment",
        "isolation": "none",
        "allergies": "none known",
        "adult_off": "",
        "course_href": "/courses/5",
    }
    return Banner(**(given | changes))  # type: ignore[arg-type]
