"""The calculator: read from the address, answered, and kept nowhere."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.calculator import calculator_page
from app.web.calculator_address import sheet_in, typed_in
from app.web.dependencies import SignedIn
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.unit_policy import policy_of

router = APIRouter()


@router.get("/calculator")
def calculator(request: Request, visit: SignedIn) -> Response:
    """Any index by hand, volumes, cylinders and units; no patient, no record, no audit line."""
    frame = frame_for(request, "Calculator", links_for(request, visit))
    query = request.query_params
    page = calculator_page(frame, policy_of(visit), sheet_in(query), typed_in(query))
    return show(request, "pages/calculator.html", page)
