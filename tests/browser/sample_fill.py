"""Forms of a few sections: an airway's exchange sent back, and one that somebody only reads."""

from app.pages.assess_page import ObservedInput, Option
from app.pages.fill_page import Blank, FillForm, FillPage, FillSection, HistoryLine
from app.pages.frame import NavLink
from app.pages.row_page import AskedFirst
from tests.browser.sample_frame import at, banner, frame
from tests.browser.sample_reader import calculator_cylinder

MARKS = (Option("teeth", "Teeth"), Option("lip", "Lip", chosen=True))
HISTORY = (
    HistoryLine(
        at("10:20"),
        "Exchanged: Oral tube 7.0 mm → Oral tube 8.0 mm, 23 cm at the lip, right, "
        "confirmed by Ash (CO2 waveform, heard on both sides)",
        "Ash",
        "cuff leak",
        holds=True,
    ),
    HistoryLine(at("04:10", 25), "Placed: Oral tube 7.0 mm, 22 cm at the lip", "Birch"),
)


def form(**changes: object) -> FillForm:
    given: dict[str, object] = {
        "action": "/courses/5/airway",
        "sections": (
            FillSection(
                "Exchanged",
                (
                    Blank("airway_size_mm", "Tube size, internal diameter", "number", "8", "mm"),
                    Blank("airway_depth_reference", "Depth read at", "choice", options=MARKS),
                    Blank("why", "Why", "text"),
                ),
                "Left empty, what it is stays as it was.",
            ),
            FillSection(
                "How its place was confirmed",
                (
                    Blank("confirmed_by", "Confirmed by", "text"),
                    Blank("confirmed_co2", "CO2 waveform seen", "tick", "yes"),
                    Blank("stoma_on", "Made on", "date", bad="It is still to come."),
                ),
            ),
        ),
        "save_label": "Save: exchanged",
        "save_key": "k-3",
        "back_href": "/courses/5",
        "observed": ObservedInput("Done at", "2026-11-26T02:03", "EST"),
        "hidden": (("act", "exchanged"),),
    }
    return FillForm(**(given | changes))  # type: ignore[arg-type]


def page(**changes: object) -> FillPage:
    given: dict[str, object] = {
        "frame": frame("Airway"),
        "banner": banner(),
        "heading": "Airway",
        "lead": "In place: Oral tube 8.0 mm, 23 cm at the lip.",
        "ways": (
            NavLink("Moved to another depth", "/courses/5/airway?act=repositioned"),
            NavLink("Exchanged", "/courses/5/airway?act=exchanged", current=True),
        ),
        "history": HISTORY,
        "history_words": "Everything that was done with it, newest first",
        "form": form(),
        "back_href": "/courses/5",
    }
    return FillPage(**(given | changes))  # type: ignore[arg-type]


def fill_cylinder() -> FillPage:
    """A transport with its cylinder worked out, and what was charted of it."""
    history = (
        HistoryLine(
            at("14:10"),
            "FiO2 on the way: 60 %, SpO2 on the way: 93 %",
            "Ash",
        ),
        HistoryLine(
            at("13:30"),
            "Transport, away from the unit: CT",
            "Ash",
            holds=True,
        ),
        HistoryLine(at("13:30"), "Settings before: FiO2 50 %, PEEP 10 cmH2O", "From the chart"),
    )
    open_form = form(
        action="/courses/5/episodes",
        sections=(FillSection("Left the unit", (Blank("away_to", "Where to", "text", "CT"),)),),
        look_label="Work out the minutes",
        cylinder=calculator_cylinder().cylinder,
        hidden=(("act", "away.begin"),),
    )
    lead = "Prone since 21:10, 5 h of 16 h; turn due 13:10. Away since 01:30, 35 min: CT."
    return page(heading="Prone, transport, trials", lead=lead, history=history, form=open_form)


def fill() -> FillPage:
    return page()


def fill_refused() -> FillPage:
    asks = (AskedFirst("airway_depth_cm:soft", "Depth 33 cm. Is that right?", "Yes, as typed"),)
    return page(form=form(errors=("Say why the tube was exchanged.",), asks=asks))


def one_press() -> FillPage:
    """One button in focus: a tube came out."""
    alone = form(sections=(), hidden=(), save_label="Record: tube out, unplanned", one_press=True)
    return page(heading="Tube out, unplanned", form=alone, ways=(), history=())


def fill_read() -> FillPage:
    return page(form=None, ways=())
