"""The lock of an idle page: somebody is still here, or the page asks by itself how long it has."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.responses import RedirectResponse, Response

from app.web.dependencies import FormDep, SignedIn, watching
from app.web.links import local_path
from app.web.visit import Visit

router = APIRouter()


@router.get("/still-here")
def ask(visit: Annotated[Visit, Depends(watching)]) -> Response:  # noqa: ARG001 - signed in or not
    """Nothing but the moment of the lock, in its header; to ask is no sign of life."""
    return Response(status_code=204)


@router.post("/still-here")
def stay(request: Request, visit: SignedIn, form: FormDep) -> Response:  # noqa: ARG001
    """Somebody pressed "Stay signed in", or goes on typing; that they asked is noted."""
    is_navigation = request.headers.get("sec-fetch-mode", "navigate") == "navigate"
    if is_navigation:
        return RedirectResponse(local_path(form.one("next")), status_code=303)
    return Response(status_code=204)
