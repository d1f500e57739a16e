"""A row held against its context, and what is said of it."""

from app.charting.cross_checks import Context, Finding, check
from app.charting.facts import Assessment, Reading
from tests.charting.rows import later, reading


def around(**changes: object) -> Context:
    given_values: dict[str, object] = {"now": later(minutes=1), **changes}
    return Context(**given_values)  # type: ignore[arg-type]


def in_force(**values: object) -> dict[str, Reading]:
    return {code: reading(code, str(value), later(hours=-1)) for code, value in values.items()}


def found(assessment: Assessment, context: Context | None = None) -> dict[str, Finding]:
    return {finding.code: finding for finding in check(assessment, context or around())}


def codes(assessment: Assessment, context: Context | None = None) -> set[str]:
    return set(found(assessment, context))
