"""L11: a child in an overflow bed; adult formulae, limits and rules are off."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.story import Bedside, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, pressure_control
from seed_demo.wander import level
from seed_demo.when import Ago

NOTES = {
    "course": "Asthma, tube two days ago at the other hospital. Mother is here.",
    "concern": "Raised. We are not a children's unit.",
    "todo": "Children's unit calls at nine about a bed.",
    "if_then": "If anything changes, then call the children's team first, then Dr Oak.",
    "gaps": "Our limits are for adults. I do not know which the children's team wants.",
}

STORY = Story(
    bed="L11",
    headline="A child in an overflow bed",
    told=(
        "Nine years old, no bed free on the children's unit. Everything can be charted, and no "
        "adult formula, limit or rule is applied."
    ),
    bedside=Bedside(
        who=Who(
            code="P-11",
            age_y=9,
            sex="M",
            height_cm="132",
            height_method="supine_tape",
            weight_kg="28",
            reason="Severe asthma attack, settling.",
            spo2=(92, 97),
        ),
        condition=Condition(
            compliance=level(21),
            resistance=level(19),
            shunt=level(0.07),
            dead_space=level(0.40),
            co2_production=115,
            heart_rate=level(112),
            mean_pressure=level(68),
            hemoglobin=11.5,
        ),
        airway=airway("ett_oral", "5.5", "17", depth_reference="lip", side="right"),
        phases=(Phase(Support(*pressure_control(12, "0.8", 20, 5, 35))),),
        started=Ago(43),
        room=Room(fio2=(30, 50), peep=(5, 6)),
        manner=Manner(
            seen={**SEDATED, "breath_sounds": "wheeze", "cough": "moderate"},
            plateau_missed=0.20,
            gas_times=(time(5, 35),),
            specimen="capillary",
        ),
        notes=NOTES,
        by_day="cedar",
    ),
)
