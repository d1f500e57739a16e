"""Builds the app: the one place where the rooms are joined."""

import secrets
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager, nullcontext
from datetime import UTC, datetime

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware

from app.actions.passwords import Passwords
from app.pages.plain_pages import DemoPerson
from app.pages.stories_page import DemoStory
from app.record.database import Database
from app.record.writing import Clock
from app.settings import Settings
from app.web.anchor import anchored
from app.web.assets import KeptFiles
from app.web.cookies import Cookies
from app.web.middleware.body_limit import BodyLimit
from app.web.middleware.faults import Faults
from app.web.middleware.known_hosts import LOOPBACK, KnownHosts
from app.web.middleware.locks_at import LocksAt
from app.web.middleware.plain_address import PlainAddress
from app.web.middleware.request_log import RequestLog
from app.web.middleware.security_headers import SecurityHeaders
from app.web.outage_hourly import kept_ready
from app.web.routes import ROUTERS
from app.web.site import Site
from app.web.trouble import answer_to


def utc_now() -> datetime:
    """The clock of a running site."""
    return datetime.now(UTC)


def create_app(
    settings: Settings,
    database: Database,
    clock: Clock = utc_now,
    *,
    passwords: Passwords | None = None,
    host_names: tuple[str, ...] = (),
    demo_people: tuple[DemoPerson, ...] = (),
    demo_stories: tuple[DemoStory, ...] = (),
    hourly_files: bool = False,
) -> FastAPI:
    """The app on an open record, which it closes at its end.

    With `hourly_files` a set for hours without the program is written every hour.
    `host_names` are what the site goes by; outside the demo none means that any name is taken.
    Raises SettingsError when there is no secret, save in the demo, which makes one for the day.
    """
    site = Site(
        settings=settings,
        secret=_secret(settings),
        database=database,
        clock=clock,
        cookies=Cookies(secure=settings.cookie_secure),
        passwords=passwords or Passwords(),
        demo_people=demo_people,
        demo_stories=demo_stories,
    )
    app = FastAPI(
        openapi_url=None,
        docs_url=None,
        redoc_url=None,
        lifespan=_closing(site, hourly_files=hourly_files),
        middleware=_middleware(settings, host_names),
        exception_handlers={HTTPException: answer_to, RequestValidationError: answer_to},
    )
    app.state.site = site
    for router in ROUTERS:
        # As they stand: to include a router is to read every signature of it once more.
        app.router.routes.extend(router.routes)
    app.mount("/static", KeptFiles(), name="static")
    return app


def _secret(settings: Settings) -> str:
    if settings.demo and not settings.secret:
        return secrets.token_hex(32)
    return settings.required_secret()


def _closing(
    site: Site, *, hourly_files: bool
) -> Callable[[FastAPI], AbstractAsyncContextManager[None]]:
    @asynccontextmanager
    async def lifespan(_app: FastAPI) -> AsyncIterator[None]:
        async with anchored(site.database), kept_ready(site) if hourly_files else nullcontext():
            yield
        site.database.close()

    return lifespan


def _middleware(settings: Settings, host_names: tuple[str, ...]) -> list[Middleware]:
    """From the outside in: the log and the headers stand around whatever goes wrong within."""
    names = host_names or (LOOPBACK if settings.demo else ())
    return [
        Middleware(RequestLog),
        Middleware(SecurityHeaders, https=settings.cookie_secure),
        Middleware(LocksAt),
        Middleware(Faults),
        Middleware(KnownHosts, names=names),
        Middleware(PlainAddress),
        Middleware(BodyLimit),
    ]
