"""L7: prone since half a day, muscles relaxed; supine and prone stand apart in the trend."""

from datetime import time, timedelta

from seed_demo.patient import Condition
from seed_demo.story import Bedside, Happening, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_control
from seed_demo.wander import Arc
from seed_demo.when import Ago

FIRST, SUPINE, SECOND = Ago(46), Ago(29), Ago(13)
RELAXED = {code: text for code, text in SEDATED.items() if not code.startswith("rass")}
TURNED = {"position": "prone", "head_of_bed_deg": "10"}

NOTES = {
    "course": "Pneumonia, four days. First prone session brought the oxygen down.",
    "concern": "High. Difficult airway, face down, muscles relaxed.",
    "danger": (
        "If the tube comes out: mask, turn supine, call Dr Oak and anaesthesia together. It "
        "took three attempts with a bougie. The bougie hangs at the bed."
    ),
    "airway": "Look at the tube mark at each turn of the head. Skin of the chin is red.",
    "todo": "Supine after sixteen hours: four people and one of us at the head.",
    "if_then": "If SpO2 stays under 85 for two minutes, then call Dr Oak and stay.",
}

STORY = Story(
    bed="L7",
    headline="Prone",
    told=(
        "The second prone session has run for half a day under a muscle relaxant. Oxygen is better "
        "on the belly; the sedation score cannot be read and is left out."
    ),
    bedside=Bedside(
        who=Who(
            code="P-07",
            age_y=52,
            sex="M",
            height_cm="176",
            height_method="lower_leg",
            weight_kg="102",
            reason="Bacterial pneumonia, severe lack of oxygen.",
            isolation="contact",
            spo2=(88, 95),
            tidal_volume_ml_kg="6.0",
        ),
        condition=Condition(
            compliance=Arc(((-72, 33), (-46, 32), (-29, 34), (-13, 32), (0, 35))),
            resistance=Arc(((0, 12),)),
            shunt=Arc(((-72, 0.40), (-29, 0.38), (0, 0.34))),
            dead_space=Arc(((-72, 0.57), (0, 0.53))),
            heart_rate=Arc(((0, 98),)),
            temperature=Arc(((-72, 38.9), (0, 37.6))),
            spread=0.03,
        ),
        airway=airway(
            "ett_oral",
            "8.0",
            "24",
            depth_reference="lip",
            side="right",
            difficult="yes",
            words="Third attempt, bougie, small mouth",
        ),
        phases=(Phase(Support(*volume_control(430, 26, 12, 70))),),
        started=Ago(98),
        room=Room(fio2=(50, 90), peep=(12, 14), rate=(24, 30)),
        manner=Manner(
            seen={
                **RELAXED,
                "nmb": "yes",
                "tof": "1",
                "cough": "absent",
                "breath_sounds": "crackles",
                "secretions_amount": "moderate",
                "secretions_colour": "green",
                "secretions_consistency": "thick",
            },
            then=(
                (FIRST, TURNED),
                (SUPINE, {"position": "semi_recumbent", "head_of_bed_deg": "30"}),
                (SECOND, TURNED),
            ),
            plateau_missed=0.05,
            gas_times=(time(5, 10), time(10, 30), time(18, 10), time(22, 40)),
        ),
        happenings=(
            Happening(
                "prone",
                FIRST,
                "Turned prone: head left",
                timedelta(hours=17),
                details={"prone_head_side": "left"},
            ),
            Happening(
                "prone",
                SECOND,
                "Turned prone: head right",
                details={
                    "prone_head_side": "right",
                    "prone_depth_before": "24",
                    "prone_depth_after": "24",
                },
            ),
        ),
        notes=NOTES,
    ),
)
