"""The intake of an empty bed: half typed with its weight, and refused because the bed is taken."""

from msgspec.structs import replace

from app.pages.fill_page import Blank, FillForm, FillSection, WeightCard
from app.pages.frame import NavLink
from app.pages.intake import IntakePage
from tests.browser import sample_fill
from tests.browser.sample_frame import frame

WEIGHT = WeightCard(
    "/beds/L11/intake/weight",
    "Predicted weight 61.5 kg",
    (("4", "246"), ("5", "308"), ("6", "369"), ("7", "431"), ("8", "492")),
    "45.5 + 0.91 × (height − 152.4)",
    "ARDS Network, NEJM 2000; 4 to 8 mL/kg: ATS/ESICM/SCCM guideline 2017",
)
WHO = FillSection(
    "Who",
    (
        Blank("name", "Name", "text", "P-21", hint="One of the two identifiers."),
        Blank("mrn", "Record number", "text", hint="One of the two identifiers."),
        Blank("birth_date", "Birth date", "date", "1970-03-09"),
        Blank("age_y", "Age", "number", unit="y"),
    ),
)
BODY = FillSection(
    "Body, for the predicted weight",
    (Blank("height_cm", "Height", "number", "170", "cm"),),
    weight=WEIGHT,
)


def page(form: FillForm) -> IntakePage:
    return IntakePage(
        frame=frame("Intake at L11"),
        heading="Intake at L11",
        lead="Name and record number are needed; any other part may wait and stays open to see.",
        form=form,
    )


def form() -> FillForm:
    shown = sample_fill.form(action="/beds/L11/intake", hidden=(), save_label="Take in")
    look = "Look at the weight without saving"
    return replace(shown, sections=(WHO, BODY, *shown.sections), look_label=look)


def intake() -> IntakePage:
    return page(form())


def intake_refused() -> IntakePage:
    way = NavLink("Open that patient", "/courses/5")
    taken = ("L11 is taken: somebody was put there already.",)
    return page(replace(form(), errors=taken, way_out=way))
