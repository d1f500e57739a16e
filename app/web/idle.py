"""When a page locks: by then whoever is signed in has to have done something."""

from datetime import datetime

from starlette.datastructures import State

from app.web.visit import Visit


def locks_at(state: State) -> datetime | None:
    """The moment at which a request's session ends by itself; None when nobody is signed in."""
    visit: Visit | None = getattr(state, "visit", None)
    if visit is None:
        return None
    return visit.locks_at(touched=getattr(state, "touched", False))
