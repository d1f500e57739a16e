"""The round of handoffs, a bed that moves meanwhile, a server that dies between requests."""

from collections.abc import Iterator
from contextlib import ExitStack, asynccontextmanager
from decimal import Decimal

from app.charting.handing_over import StepKind
from app.record.beds import move, unit_beds
from app.record.database import Database
from app.record.tables import BodySizeRow
from app.rules.handoff_state import handoff_of
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import accept, keys, offer, page_of, said, stored
from tests.site import PASSWORD, open_site
from tests.ward import IDENTIFIERS, Ward, facts_of


def groups(browser: Browser) -> dict[str, list[str]]:
    """The beds under each heading of the round, in their order."""
    page = browser.get("/handoffs").page
    return {
        section["aria-labelledby"].removeprefix("group-"): [
            row["id"].removeprefix("row-") for row in section.all("li") if row["id"]
        ]
        for section in page.root.all("section")
        if section["aria-labelledby"].startswith("group-")
    }


def version(answer: Answer) -> str:
    part = next(e for e in answer.page.root.all("div") if e["id"] == "round")
    return part["hx-get"].partition("version=")[2]


def move_to(database: Database, ward: Ward, clock: Clock, bed: str, to: str) -> None:
    with database.writing(clock, ward.staff["cedar"]) as writing:
        beds = {one.code: one.id for one in unit_beds(writing.session, ward.unit_id)}
        move(writing, {ward.courses[bed]: beds[to]}, clock())
        writing.audit("move_bed", course_id=ward.courses[bed])


def test_the_round_is_worst_first_and_what_nobody_judged_is_not_low(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", to="birch")
    offer(ash, ward, "L5", level="raised", reason="Tires", to="birch")
    assert groups(birch)["to-you"] == ["L5", "L3"]
    assert groups(ash)["yours"] == ["L5", "L6", "L10", "L3"]


def test_both_see_each_others_state_as_soon_as_they_ask(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    offer(ash, ward, "L3", to="birch")
    known = version(ash.get("/handoffs"))
    assert ash.part(f"/handoffs/rows?version={known}").status == 304
    accept(birch, ward, "L3")
    news = ash.part(f"/handoffs/rows?version={known}")
    assert news.status == 200
    assert "Birch has it" in news.text


def test_asking_again_by_itself_is_no_sign_of_life(ash: Browser, clock: Clock) -> None:
    known = version(ash.get("/handoffs"))
    for _ in range(4):
        clock.forward(minutes=ash.app.state.site.settings.idle_minutes / 3)
        ash.part(f"/handoffs/rows?version={known}")
    assert ash.get("/handoffs").path == "/sign-in"


def test_a_bed_that_moved_between_offer_and_accept(
    ash: Browser, birch: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    said(ash, ward, "L3", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    before = stored(ash, ward, "L3", 1)
    clock.forward(minutes=1)
    move_to(database, ward, clock, "L3", "L9")
    move_to(database, ward, clock, "L5", "L3")
    page = birch.get(page_of(ward, "L3"))
    assert "P-01 Test" in page.page.heading
    assert "L9" in page.page.heading
    assert "was L3" in page.page.text
    assert "rescue gear and outlets at L9 looked at" in page.page.text
    birch.submit(page_of(ward, "L3", "/accept"), ticked="yes")
    assert birch.last.status == 422
    assert accept(birch, ward, "L3").path == "/handoffs"
    assert "P-05 Test" in birch.get("/beds/L3").page.heading
    assert "Nobody has this bed yet" in birch.get(page_of(ward, "L5")).page.text
    assert stored(birch, ward, "L3", 1) == before


class Restarting:
    """A server that is gone and back between any two requests: only the record and cookies stay."""

    def __init__(self, database: Database, clock: Clock) -> None:
        self.database, self.clock = database, clock

    def browse(self, stack: ExitStack, held: Browser | None, address: str) -> Browser:
        """A browser with the same cookies on a new process of the app."""
        new = open_site(self.database, self.clock)
        new.router.lifespan_context = _nothing_closes
        browser = stack.enter_context(browsing(new, identifiers=IDENTIFIERS, address=address))
        if held is not None:
            browser.client.cookies = held.client.cookies
            browser.last = held.last
        return browser


def _nothing_closes(_app):
    @asynccontextmanager
    async def open_still() -> Iterator[None]:
        yield

    return open_still()


def test_a_server_that_dies_between_any_two_requests_loses_and_doubles_nothing(
    ward: Ward, database: Database, clock: Clock
) -> None:
    again = Restarting(database, clock)
    with ExitStack() as stack:
        ash = again.browse(stack, None, "10.1.1.1")
        ash.sign_in("ash", PASSWORD)
        birch = again.browse(stack, None, "10.1.1.2")
        birch.sign_in("birch", PASSWORD)

        def restarted(one: Browser) -> Browser:
            return again.browse(stack, one, "10.1.1.1" if one.address == "a" else "10.1.1.2")

        ash.address, birch.address = "a", "b"
        acts = (
            (ash, "/take", {"words": "Stable"}),
            (ash, "/offer", {"level": "low", "reason": "Steady", "to": ward.staff["birch"]}),
            (birch, "/return", {"words": "Which tube?"}),
            (ash, "/answer", {"words": "7.5 at 22"}),
            (birch, "/accept", {"ticked": "yes"}),
        )
        for one, path, typed in acts:
            page = one.get(page_of(ward, "L3"))
            for _ in range(3):  # sent, answer lost, server back, sent again
                other = restarted(one)
                other.last = page
                other.submit(page_of(ward, "L3", path), **typed)
    steps = facts_of(database, ward).handoffs
    assert [step.kind for step in steps] == [
        StepKind.TAKEN,
        StepKind.OFFERED,
        StepKind.RETURNED,
        StepKind.ANSWERED,
        StepKind.ACCEPTED,
    ]
    assert handoff_of(steps).holder.name == "Birch"


def test_two_receivers_of_one_giver_and_two_givers_of_one_receiver(
    ash: Browser, birch: Browser, ward: Ward
) -> None:
    cedar = ash.another("10.1.1.3")
    cedar.sign_in("cedar", PASSWORD)
    said(ash, ward, "L3", "take", "Stable")
    said(ash, ward, "L5", "take", "Stable")
    said(cedar, ward, "L6", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    offer(ash, ward, "L5", to="cedar")
    offer(cedar, ward, "L6", to="birch")
    assert groups(birch)["to-you"] == ["L3", "L6"] or groups(birch)["to-you"] == ["L6", "L3"]
    for one, bed in ((birch, "L3"), (cedar, "L5"), (birch, "L6")):
        accept(one, ward, bed, restated="Stable")
    assert set(groups(birch)["yours"]) == {"L3", "L6", "L10"}
    assert "L5" in groups(cedar)["yours"]


def test_a_height_corrected_behind_an_acceptance_reaches_both_and_the_old_page_stays(
    ash: Browser, birch: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    chart(ash, ward, "L3")
    said(ash, ward, "L3", "take", "Stable")
    offer(ash, ward, "L3", to="birch")
    accept(birch, ward, "L3", restated="Stable")
    before = stored(ash, ward, "L3", 1)
    clock.forward(minutes=5)
    correct_height(database, ward, clock)
    for one in (ash, birch):
        page = one.get(page_of(ward, "L3"))
        assert "Height: 160 cm → 150 cm" in page.page.text
        assert "was 52.4 kg" in page.page.text
        assert "1 late item to look at" in one.get("/handoffs").page.text
    action = page_of(ward, "L3", "/seen")
    page = birch.get(page_of(ward, "L3"))
    birch.submit(action, seen=keys(page, action))
    assert "late item to look at" not in birch.get("/handoffs").page.text
    assert "1 late item to look at" in ash.get("/handoffs").page.text
    assert stored(ash, ward, "L3", 1) == before


def correct_height(database: Database, ward: Ward, clock: Clock) -> None:
    (size,) = facts_of(database, ward).body_sizes
    with database.writing(clock, ward.staff["cedar"]) as writing:
        row = BodySizeRow(
            supersedes_id=size.id,
            course_id=ward.courses["L3"],
            observed_at=size.observed_at,
            height_cm=Decimal(150),
            height_method="supine_tape",
            pbw_sex="F",
            why="measured again",
        )
        writing.add(row)
        writing.audit("correct_height", course_id=ward.courses["L3"], subject=row)
