"""Humidifier, circuit and the rescue gear at the bed: what stands between machine and patient."""

from app.charting.field import Field, Group, Manner
from app.charting.fields.declare import choice, day, moment, number, yes_no

G = Group.HUMIDIFICATION
S = Group.SAFETY
AARC = "AARC humidification guideline 2012, Respir Care 57(5):782-8"

HUMIDIFICATION: tuple[Field, ...] = (
    choice(
        "humidifier",
        "Humidifier",
        G,
        (
            ("heated", "Heated"),
            ("hme", "HME"),
            ("hme_filter", "HME filter"),
            ("none", "None"),
            ("hme_with_heated_found", "HME and heated together, as found"),
        ),
        manner=Manner.READ_OFF,
        about="Never two at once: a wet HME blocks the airway.",
        source=f"{AARC}; never two: common practice.",
    ),
    number(
        "humidifier_temp_c",
        "Humidifier temperature",
        G,
        Manner.READ_OFF,
        "°C",
        hard=("15", "50"),
        soft=("31", "41"),
        step="0.1",
        places=1,
        accepts=("°F",),
        short="Humidifier °C",
        source=f"34 to 41 °C at the Y-piece: {AARC}. Entry limits: engineering judgement.",
        about="As displayed, at the Y-piece.",
    ),
    day(
        "circuit_changed_on",
        "Circuit changed on",
        G,
        about="Changed when soiled or faulty, not by the calendar (SHEA/IDSA/APIC 2022).",
    ),
    day("filter_changed_on", "Filter changed on", G, about="HME or expiratory filter."),
    day("humidifier_changed_on", "Humidifier changed on", G, about="Chamber or HME."),
    day("suction_changed_on", "In-line suction changed on", G, about="The closed catheter."),
)

SAFETY: tuple[Field, ...] = (
    yes_no("safe_bag_mask", "Bag, mask and PEEP valve", S, about="At the bed and complete."),
    yes_no("safe_suction", "Suction works", S, about="Tried, not looked at."),
    yes_no("safe_oxygen", "Oxygen supply on", S, about="Source and flowmeter for the bag."),
    yes_no("safe_power_outlet", "Emergency power outlet", S, about="The machine is plugged there."),
    yes_no(
        "safe_spare_airway",
        "Spare airway at the bed",
        S,
        about="For a tracheostomy: the same size and one smaller, with obturator.",
    ),
    yes_no("safe_alarm_audible", "Alarm heard outside", S, about="With the door as it stands."),
    yes_no("safe_humidifier_filled", "Humidifier filled", S, about="Water up to the mark."),
    yes_no(
        "safe_expiratory_filter",
        "Filter on the expiratory limb",
        S,
        about="It keeps what the patient breathes out from the machine and the room.",
    ),
    choice(
        "pre_use_check",
        "Pre-use check",
        S,
        (("passed", "Passed"), ("failed", "Failed")),
        about="The machine's own test, with leak and compliance, before it meets the patient.",
    ),
    moment(
        "pre_use_check_passed_at", "Pre-use check passed at", S, about="The machine's own test."
    ),
)
