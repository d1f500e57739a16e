"""L8: a tracheostomy of two days, a spare tube that is missing, and a check that is overdue."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.screens import screened
from seed_demo.story import (
    Bedside,
    Happening,
    Manner,
    NewAirway,
    Phase,
    Room,
    Story,
    Who,
    airway,
)
from seed_demo.support import Support
from seed_demo.usual import SEDATED, pressure_control
from seed_demo.wander import level
from seed_demo.when import Ago, At

CUT = At(time(11, 20), 34)

NOTES = {
    "course": "Brain stem stroke, ten days on the tube by mouth, now tracheostomy.",
    "concern": "Raised. The stoma is fresh.",
    "danger": (
        "If the tube comes out do not push it back: cover the neck, mask from above, call the "
        "surgeons. She can be ventilated by mask."
    ),
    "todo": "The smaller spare tube is ordered from theatre. Ask again at seven.",
    "if_then": "If bleeding is more than a streak, then call the surgeons at once.",
}

STORY = Story(
    bed="L8",
    headline="A fresh tracheostomy",
    told=(
        "The tube in the neck is new, the smaller spare is not at the bed, and nobody has come for "
        "the last check: it is overdue, and what was read before grows old."
    ),
    bedside=Bedside(
        who=Who(
            code="P-08",
            age_y=61,
            sex="F",
            height_cm="165",
            height_method="standing",
            weight_kg="58",
            reason="Stroke of the brain stem, cannot keep the airway free.",
            allergies="latex",
            spo2=(92, 96),
        ),
        condition=Condition(
            compliance=level(46), resistance=level(10), shunt=level(0.10), heart_rate=level(84)
        ),
        airway=airway("ett_oral", "7.5", "22", depth_reference="lip", side="left"),
        airways=(
            NewAirway(
                CUT,
                "exchanged",
                airway(
                    "trach",
                    "8.0",
                    words="Surgical, stay sutures left and right, first change by the surgeons",
                ),
            ),
        ),
        phases=(Phase(Support(*pressure_control(11, "0.9", 16, 6, 35))),),
        started=Ago(240),
        room=Room(fio2=(30, 50), peep=(5, 8)),
        manner=Manner(
            seen={**SEDATED, "rass": "-1", "rass_target": "0", "cough": "moderate"},
            then=(
                (
                    CUT,
                    {
                        "securement": "ties and stay sutures",
                        "airway_skin": "oozing a little",
                        "secretions_colour": "blood_tinged",
                        "secretions_amount": "moderate",
                    },
                ),
                (Ago(22), {"safe_spare_airway": "no"}),
            ),
            plateau_missed=0.15,
        ),
        happenings=(
            screened("screen_effort"),
            Happening("tracheostomy", CUT, "Tracheostomy in theatre, 8.0, cuffed, no trouble"),
        ),
        notes=NOTES,
        behind=True,
    ),
)
