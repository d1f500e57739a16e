"""Every address of the site, one file per page or subject."""

from fastapi import APIRouter

from app.web.routes import (
    again,
    assess,
    beds,
    board,
    calculator,
    courses,
    drafts,
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
    unsigned,
)

# The first is found first: every open board asks every few seconds.
ROUTERS: tuple[APIRouter, ...] = (
    board.router,
    health.router,
    sign_in.router,
    sign_out.router,
    idle.router,
    theme.router,
    beds.router,
    courses.router,
    assess.router,
    unsigned.router,
    drafts.router,
    handoff.router,
    handoff_steps.router,
    handoff_plan.router,
    handoff_round.router,
    numbers.router,
    rows.router,
    again.router,
    height.router,
    calculator.router,
    help_pages.router,
    stories.router,
)
