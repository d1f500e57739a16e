"""What a route asks for, as types: its signature says who may call it and what it works with."""

from collections.abc import Awaitable, Callable
from typing import Annotated

from fastapi import BackgroundTasks, Depends, Path, Request
from starlette.concurrency import run_in_threadpool

from app.actions.permissions import Act, may
from app.record.errors import NotReadable
from app.web.errors import FormNotOurs, MayNot, NeedsSignIn
from app.web.first_run import look_for_missing
from app.web.form_tokens import comes_from_elsewhere, is_token
from app.web.forms import Form, form_of
from app.web.kept import Memory
from app.web.site import Site, SiteDep
from app.web.unit_clocks import clock_for_nobody
from app.web.visit import Visit, look_up, look_up_again, touch

CLOCK = "clock for nobody"
"""Under which name a memory holds it."""

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


def address_of(request: Request) -> str:
    """The address that the request came from, as the server sees it."""
    return request.client.host if request.client else ""


def memory_of(request: Request) -> Memory:
    """What was read of the record since the last write, as asked before this request read any."""
    memory: Memory | None = getattr(request.state, "memory", None)
    if memory is None:
        site: Site = request.app.state.site
        memory = request.state.memory = site.kept.memory(site.database)
    return memory


async def find_visit(request: Request, site: Site) -> Visit | None:
    """Who is signed in; None for nobody. Looked up once for each request, in memory if it can."""
    token = request.cookies.get(site.cookies.session, "")
    if token and not hasattr(request.state, "visit"):
        memory, address = memory_of(request), address_of(request)
        request.state.visit = look_up_again(site, token, address, memory) or (
            await run_in_threadpool(look_up, site, token, address, memory)
        )
    visit: Visit | None = getattr(request.state, "visit", None)
    if visit is None:
        await _look_around(request, site)
    return visit


async def _look_around(request: Request, site: Site) -> None:
    """What a page for nobody shows of the site: what it lacks, and the time where it stands."""
    if not site.first_run.over:
        request.state.missing = await run_in_threadpool(look_for_missing, site)
    if site.first_run.over and not hasattr(request.state, "clock"):
        memory = memory_of(request)
        if CLOCK not in memory:
            try:
                memory[CLOCK] = await run_in_threadpool(clock_for_nobody, site.database)
            except NotReadable:  # the page is shown all the same
                return
        request.state.clock = memory[CLOCK]


async def watching(request: Request) -> Visit:
    """Somebody signed in, whose request is made by a page by itself and so is no sign of life.

    Any request that could change something has to carry this session's form token.
    """
    site: Site = request.app.state.site
    is_safe = request.method in SAFE_METHODS
    if not is_safe:
        await form_of(request)  # first, so that what was typed is kept in sight whatever follows
    visit = await find_visit(request, site)
    if visit is None:
        raise NeedsSignIn
    if not is_safe:
        await prove(request, site, visit.form_secret)
    return visit


async def signed_in(
    request: Request, visit: Annotated[Visit, Depends(watching)], background: BackgroundTasks
) -> Visit:
    """Somebody signed in who did something; noted after the answer, which must not wait for it."""
    background.add_task(touch, visit)
    request.state.touched = True
    return visit


async def prove(request: Request, site: Site, form_secret: str) -> None:
    """Raises FormNotOurs unless the form comes from this site and carries its token."""
    form = await form_of(request)
    sent = request.headers.get("x-csrf-token") or form.one("csrf")
    if comes_from_elsewhere(request) or not is_token(site.secret, form_secret, sent):
        raise FormNotOurs


async def anybodys_form(request: Request, site: SiteDep) -> Form:
    """A proven form of anybody, signed in or not."""
    form = await form_of(request)
    visit = await find_visit(request, site)
    secret = visit.form_secret if visit else request.cookies.get(site.cookies.form, "")
    await prove(request, site, secret)
    return form


def who_may(act: Act) -> Callable[..., Awaitable[Visit]]:
    """A dependency: somebody signed in whose role covers the act. Raises MayNot for others."""

    async def allowed(visit: Annotated[Visit, Depends(signed_in)]) -> Visit:
        return _allowed(visit, act)

    return allowed


async def watching_patients(request: Request) -> Visit:
    """Somebody who may read patients; for a plain route to call. Raises NeedsSignIn and MayNot."""
    return _allowed(await watching(request), Act.READ_PATIENTS)


async def _watching_charter(visit: Annotated[Visit, Depends(watching)]) -> Visit:
    return _allowed(visit, Act.DRAFT)


def _allowed(visit: Visit, act: Act) -> Visit:
    if not may(visit.person.role, act):
        raise MayNot(visit.role_name, act)
    return visit


VersionInAddress = Annotated[int, Path(ge=1, le=2**31 - 1)]
"""The number of a version; any other text there leads nowhere, and so does a number that is too
large for a column."""

FormDep = Annotated[Form, Depends(form_of)]
AnybodysForm = Annotated[Form, Depends(anybodys_form)]

SignedIn = Annotated[Visit, Depends(signed_in)]
Reader = Annotated[Visit, Depends(who_may(Act.READ_PATIENTS))]
Watcher = Annotated[Visit, Depends(watching_patients)]
"""A reader whose page asks by itself, such as the board's refresh."""
ChartWatcher = Annotated[Visit, Depends(_watching_charter)]
"""Somebody whose page keeps what they type: the typing is a sign of life, the keeping is none."""
Drafter = Annotated[Visit, Depends(who_may(Act.DRAFT))]
"""Somebody who may fill in a check; whether it counts is for `Act.CHART` to say."""
CoSigner = Annotated[Visit, Depends(who_may(Act.CO_SIGN))]
Charter = Annotated[Visit, Depends(who_may(Act.CHART))]
Corrector = Annotated[Visit, Depends(who_may(Act.CORRECT))]
NoteWriter = Annotated[Visit, Depends(who_may(Act.WRITE_NOTES))]
Offerer = Annotated[Visit, Depends(who_may(Act.OFFER))]
Placer = Annotated[Visit, Depends(who_may(Act.PLACE))]
Coverer = Annotated[Visit, Depends(who_may(Act.COVER))]
Assigner = Annotated[Visit, Depends(who_may(Act.ASSIGN))]
LeadOnly = Annotated[Visit, Depends(who_may(Act.SET_POLICY))]
AuditReader = Annotated[Visit, Depends(who_may(Act.READ_AUDIT))]
PeopleManager = Annotated[Visit, Depends(who_may(Act.MANAGE_PEOPLE))]
