"""Every address of the site, one file per page or subject."""

from fastapi import APIRouter

from app.web.routes import (
    again,
    assess,
    beds,
    board,
    calculator,
    courses,
    handoff,
    handoff_plan,
    handoff_round,
    handoff_steps,
    health,
    height,
    help_pages,
    idle,
    numbers,
    rows,
    sign_in,
    sign_out,
    stories,
    theme,
)

ROUTERS: tuple[APIRouter, ...] = (
    health.router,
    sign_in.router,
    sign_out.router,
    idle.router,
    theme.router,
    board.router,
    beds.router,
    courses.router,
    assess.router,
    handoff.router,
    rows.router,
    again.router,
    height.router,
    handoff_steps.router,
    handoff_plan.router,
    handoff_round.router,
    calculator.router,
    help_pages.router,
    numbers.router,
    stories.router,
)
