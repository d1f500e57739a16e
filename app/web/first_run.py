"""Whether this site is set up: looked up until it is, and then never again in this process."""

from app.pages.first_run import NOT_MIGRATED, Missing, missing_of
from app.record.database import Database
from app.record.errors import NotReadable
from app.record.set_up import set_up
from app.web.site import Site
from app.web.this_version import is_of_this_version


def look_for_missing(site: Site) -> tuple[Missing, ...]:
    """What is missing; nothing while the record cannot be read, since then nobody knows."""
    if not site.first_run.over:
        try:
            missing = missing_from(site.database)
        except NotReadable:
            return ()
        site.first_run.over = not missing
        return missing
    return ()


def missing_from(database: Database) -> tuple[Missing, ...]:
    """What a record lacks before anybody can work with it. Raises NotReadable."""
    if not is_of_this_version(database):
        return (NOT_MIGRATED,)
    with database.reading() as session:
        return missing_of(set_up(session))
