"""The page that asks whose chart it is, and keeps the form that waits for the answer."""

from starlette.requests import Request
from starlette.responses import HTMLResponse

from app.pages.identity import IdentityPage, identity_question
from app.web.covering import REASON, WORDS, question_about
from app.web.forms import NO_FORM, Form
from app.web.frame import frame_for, visit_of
from app.web.identity import IDENTITY, NeedsIdentity
from app.web.show import show
from app.web.typed_labels import typed_in
from app.web.visit import Visit

NOT_CARRIED = frozenset({"csrf", IDENTITY, REASON, WORDS})
WHOSE_CHART = "Whose chart is this?"
WHOSE_BED = "Whose bed is this?"


def identity_answer(request: Request, asked: NeedsIdentity) -> HTMLResponse:
    """The question, with everything the form sent: the answer goes to the same address with it.

    For a form that takes a page of its own; one whose answer is set into a page asks in itself.
    """
    visit = visit_of(request)
    if visit is None:  # a form without a visit is refused before anybody could ask
        raise asked
    page = _page(request, visit, asked)
    return show(request, "pages/identity.html", page, status=422)


def _page(request: Request, visit: Visit, asked: NeedsIdentity) -> IdentityPage:
    form: Form = getattr(request.state, "form", NO_FORM)
    facts = asked.course.facts
    digits = visit.site.settings.identity_digits
    heading = WHOSE_CHART if asked.words else WHOSE_BED
    sent = ((name, text) for name, texts in form.values.items() for text in texts)
    return IdentityPage(
        frame=frame_for(request, heading),
        banner=asked.course.banner(visit),
        heading=heading,
        question=identity_question(
            facts.identity.record_number, digits, typed=form.one(IDENTITY), error=asked.words
        )
        if asked.words
        else None,
        cover=question_about(visit, asked.bed, form, asked.why_not),
        action=request.url.path,
        back_href=f"/courses/{facts.course_id}",
        carried=tuple((name, text) for name, text in sent if name not in NOT_CARRIED),
        typed=typed_in(form, but=NOT_CARRIED),
    )
