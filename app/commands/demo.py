"""`leeboard demo`: the invented unit on this machine alone, seeded once and kept between starts."""

from pathlib import Path
from typing import Annotated

import typer

from app.actions.rebuild_summaries import rebuild_summaries
from app.commands.opened import given_settings, refuse
from app.commands.server import run_server
from app.main import create_app, utc_now
from app.pages.stories_page import DemoStory
from app.record.database import Database
from app.record.errors import NotReadable, NotWritable
from app.record.migrate import upgrade
from app.settings import Settings
from seed_demo.people import DEMO_PEOPLE
from seed_demo.stories import STORIES
from seed_demo.unit import seed

app = typer.Typer(add_completion=False)

HERE = "127.0.0.1"
FILE = "demo.sqlite3"


@app.command("demo")
def demo(
    port: Annotated[int, typer.Option(min=1, max=65535)] = 8000,
    reset: Annotated[bool, typer.Option("--reset", help="Start over.")] = False,
    only_seed: Annotated[bool, typer.Option("--only-seed", help="Do not serve.")] = False,
) -> None:
    """Show the invented unit; what was charted in it stays until --reset."""
    settings = _demo_settings(given_settings())
    if reset:
        _forget(settings.data_dir)
    database = _seeded(settings)
    if only_seed:
        database.close()
        return
    _say_where(port)
    site = create_app(settings, database, demo_people=DEMO_PEOPLE, demo_stories=demo_stories())
    run_server(site, HERE, port)


def demo_stories() -> tuple[DemoStory, ...]:
    """The stories in the shape of their page, since nothing of the site knows the demo's own."""
    return tuple(
        DemoStory(story.bed, story.patient, story.headline, story.told) for story in STORIES
    )


def _demo_settings(given: Settings) -> Settings:
    """A file of its own, so that the demo never meets a real record, and cookies without HTTPS."""
    folder = given.data_dir.absolute()
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return Settings(
        database_url=f"sqlite:///{folder / FILE}",
        data_dir=folder,
        demo=True,
        cookie_secure=False,
        idle_minutes=given.idle_minutes,
        session_hours=given.session_hours,
        identity_digits=given.identity_digits,
    )


def _forget(folder: Path) -> None:
    for file in folder.glob(f"{FILE}*"):
        file.unlink()


def _seeded(settings: Settings) -> Database:
    """The demo's record; seeded beside its place and moved there whole, or not at all."""
    place = settings.data_dir / FILE
    try:
        if not place.exists():
            _seed_into(place)
        database = Database(settings.database_url)
        upgrade(database)
        rebuild_summaries(database, utc_now)
    except (NotWritable, NotReadable) as error:
        refuse(f"The demo cannot start: {error.why}. `make demo-reset` starts it over.")
    return database


def _seed_into(place: Path) -> None:
    typer.echo("Seeding the demo unit …")
    beside = place.with_name(f"seeding-{FILE}")
    for left_over in place.parent.glob(f"{beside.name}*"):
        left_over.unlink()
    database = Database(f"sqlite:///{beside}")
    upgrade(database)
    seed(database, utc_now())
    database.close()  # the last connection to close empties the write-ahead log into the file
    beside.rename(place)


def _say_where(port: int) -> None:
    typer.echo(f"Leeboard's demo: http://{HERE}:{port}  (Ctrl+C stops it)")
    typer.echo("Everything in it is invented. Sign in as:")
    for person in DEMO_PEOPLE:
        typer.echo(f"  {person.sign_in_name:<8} {person.password:<24} {person.role}")
