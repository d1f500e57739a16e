"""L2: a lung that gets stiffer until driving pressure and plateau stand over the limits."""

from datetime import time, timedelta
from decimal import Decimal

from app.actions.write_if_then import Line
from seed_demo.patient import Condition
from seed_demo.plan import Plan, PlannedTask
from seed_demo.screens import screened
from seed_demo.story import Bedside, Happening, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_control
from seed_demo.wander import Arc
from seed_demo.when import Ago, At

NOTES = {
    "course": "Day by day stiffer since admission. CT: both lower lobes white.",
    "concern": "High. The lung is stiffer each round and there is little room left.",
    "danger": (
        "Saturation falls within a minute of a disconnection. Clamp before any change of "
        "circuit, two people at the bed."
    ),
    "changed": "Volume came down with the plateau. More oxygen was needed all the same.",
    "todo": "Gas after the next change. Ask Dr Oak about a prone session today.",
    "call": "Dr Oak, 4411. The second therapist is at L7.",
}

PLAN = Plan(
    tasks=(
        PlannedTask("Gas after the next change of volume", timedelta(hours=2), "therapist"),
        PlannedTask("Ask Dr Oak about a prone session", timedelta(hours=4), "therapist", "order"),
    ),
    lines=(
        Line(
            measure="SpO2",
            comparison="under",
            value="88 %",
            lasting="5 min",
            action="second therapist to the bed, suction if there are secretions",
            call="Dr Oak",
            within_min=Decimal(5),
            tried="suction in the morning, small effect",
            limit_key="spo2",
        ),
        Line(
            measure="Plateau",
            comparison="over",
            value="32 cmH2O",
            action="look for effort, repeat the hold",
            call="Dr Oak",
            within_min=Decimal(30),
            limit_key="plateau_pressure_obs",
        ),
    ),
)

STORY = Story(
    bed="L2",
    headline="A stiff lung over the limits",
    told=(
        "Compliance falls by a third. Oxygen and PEEP go up, the volume comes down, and driving "
        "pressure and plateau still end over what this unit set."
    ),
    bedside=Bedside(
        who=Who(
            code="P-02",
            age_y=58,
            sex="F",
            height_cm="160",
            height_method="supine_tape",
            weight_kg="71",
            reason="Viral pneumonia, both lungs.",
            isolation="droplet",
            spo2=(88, 95),
            tidal_volume_ml_kg="6.0",
        ),
        condition=Condition(
            compliance=Arc(((-72, 28), (-34, 24), (-10, 19), (0, 18))),
            resistance=Arc(((0, 12),)),
            shunt=Arc(((-72, 0.29), (-20, 0.39), (0, 0.43))),
            dead_space=Arc(((-72, 0.48), (0, 0.56))),
            heart_rate=Arc(((-72, 96), (0, 112))),
            temperature=Arc(((-72, 38.6), (0, 38.0))),
            bicarbonate=25.0,
            spread=0.03,
        ),
        airway=airway("ett_oral", "7.5", "22", depth_reference="lip", side="left"),
        phases=(Phase(Support(*volume_control(360, 24, 12, 55))),),
        started=Ago(118),
        room=Room(fio2=(40, 90), peep=(10, 14), volume_floor_ml=320, rate=(22, 30)),
        manner=Manner(
            seen={
                **SEDATED,
                "rass": "-5",
                "rass_target": "-4",
                "breath_sounds": "crackles",
                "secretions_amount": "moderate",
                "secretions_colour": "yellow",
                "secretions_consistency": "thick",
            },
            plateau_missed=0.0,
            gas_times=(time(5, 10), time(12, 30), time(17, 0), time(22, 0)),
        ),
        happenings=(
            screened("screen_cause", "screen_oxygen"),
            Happening(
                "away",
                At(time(13, 10), 15),
                "To CT with nurse and transport ventilator",
                timedelta(minutes=55),
            ),
        ),
        notes=NOTES,
        plan=PLAN,
    ),
)
