"""What rules an index out: the patient's age, the mode, the specimen, extracorporeal support.

Each gate reads only what it needs and ends the working with a reason in a reader's words. A gate
whose input the caller does not mention stays open unless its docstring says otherwise.
"""

from decimal import Decimal

from app.physiology.breathing import FAMILIES, UNKNOWN, Family
from app.physiology.display import fixed
from app.physiology.working import Inputs, inapplicable, unavailable

ADULT_AGE = Decimal(18)
"""Decision 1: adult formulas, limits and classes are off below this age."""

LARGE_LEAK = Decimal(15)
"""Per cent. Above it an expired volume no longer is the breath's volume (engineering judgement,
the same bound as the leak rule's)."""

LEAST_LEAK_ML = Decimal(50)
"""mL. Less than this is no leak, however small the breath (engineering judgement)."""

HIGHEST_SPO2 = Decimal(97)
"""Rice, Chest 2007: above it the dissociation curve is too flat to read oxygenation from."""

NO_SUPPORT = frozenset({"none", "no", "false", "off", "0"})


def family_of(take: Inputs) -> Family | None:
    """The mode family, None where the caller names none; an unknown code allows no mechanics."""
    code = take.word("family")
    return None if code is None else FAMILIES.get(code, UNKNOWN)


def adults_only(take: Inputs) -> None:
    """Closed under 18 years: no adult number is shown as if it held for a child (decision 1)."""
    age = take.optional("age_y")
    if age is not None and age < ADULT_AGE:
        raise inapplicable("adult formula: not used under 18 years")


def hold_possible(take: Inputs) -> None:
    """Closed where no hold means anything: support, two levels, mask, high flow (decision 5)."""
    family = family_of(take)
    if family is not None and not family.hold_means_something:
        raise inapplicable(f"no valid hold in this mode ({family.label})")


def passive(take: Inputs) -> None:
    """Closed unless somebody said that the breath was passive: silence is not yes (decision 5).

    Effort is of this hold, not of the mode: another one may be passive (decision 28).
    """
    answer = take.yes_no("passive")
    if answer is False:
        raise unavailable("not valid: spontaneous effort")
    if answer is None:
        raise unavailable("passive breath or not: not answered", "passive")


def passive_if_asked(take: Inputs) -> None:
    """As `passive`, but open where the caller does not mention it."""
    if take.says("passive"):
        passive(take)


def no_effort(take: Inputs) -> None:
    """Closed only where effort was seen: for what needs no hold, but is not the machine's alone."""
    if take.yes_no("passive") is False:
        raise unavailable("not valid: spontaneous effort")


def machine_breaths(take: Inputs) -> None:
    """Closed where breaths are not all machine-sized: effort adds what the machine cannot see."""
    family = family_of(take)
    if family is not None and not family.controlled:
        raise inapplicable(f"only in controlled breathing, not in this mode ({family.label})")


def no_support_breaths(take: Inputs) -> None:
    """Closed in support, mask, high-flow and unknown modes; mixed and two-level modes pass."""
    family = family_of(take)
    if family is not None and family.sharing in ("spontaneous", "none"):
        raise inapplicable(f"not valid in this mode ({family.label})")


def one_peep(take: Inputs) -> None:
    """Closed in two-level modes: no one PEEP to start a breath from (Respir Res 2022;23:101)."""
    family = family_of(take)
    if family is not None and family.sharing == "two_level":
        raise inapplicable(f"no one PEEP in this mode ({family.label})")


def volume_breaths(take: Inputs) -> None:
    """Closed where the machine-sized breath is not volume control."""
    family = family_of(take)
    if family is not None and family.inflation != "volume":
        raise inapplicable(f"only in volume control with constant flow, not in {family.label}")


def pressure_breaths(take: Inputs) -> None:
    """Closed where the machine-sized breath is not pressure control."""
    family = family_of(take)
    if family is not None and family.inflation != "pressure":
        raise inapplicable(f"only in pressure control, not in {family.label}")


def constant_flow(take: Inputs) -> None:
    """Closed unless the flow is known to be constant."""
    if take.word("flow_pattern") is None:
        raise unavailable("flow pattern is not known", "flow_pattern")
    constant_flow_if_said(take)


def constant_flow_if_said(take: Inputs) -> None:
    """Closed where the flow is said to be anything but constant."""
    pattern = take.word("flow_pattern")
    if pattern not in (None, "constant", "square"):
        raise inapplicable(f"only with constant flow, not {pattern}")


def timed_breaths(take: Inputs) -> None:
    """Closed where breaths differ in length: synchronized, support, two levels (decision 22)."""
    family = family_of(take)
    if family is not None and not family.controlled:
        raise inapplicable(f"breaths are not all alike in this mode ({family.label})")


def own_breaths(take: Inputs) -> None:
    """Closed unless all breaths are known to be the patient's own, through a tube or T-piece."""
    family = family_of(take)
    if family is None:
        raise unavailable("mode is not known: only for spontaneous breathing", "family")
    if not family.spontaneous:
        raise inapplicable(f"only for spontaneous breathing, not in this mode ({family.label})")


def high_flow_only(take: Inputs) -> None:
    """Closed unless the support is known to be high-flow nasal oxygen (Roca 2019)."""
    family = family_of(take)
    if family is None:
        raise unavailable("support is not known: only on high-flow nasal oxygen", "family")
    if not family.high_flow:
        raise inapplicable(f"only on high-flow nasal oxygen, not in this mode ({family.label})")


def pressurised_airway(take: Inputs) -> None:
    """Closed where no machine presses, so that no mean airway pressure or PEEP is known."""
    family = family_of(take)
    if family is not None and (family.high_flow or family.code in ("o2_mask", "unassisted")):
        raise inapplicable(f"no airway pressure is measured in this mode ({family.label})")


def little_leak(take: Inputs) -> None:
    """Closed above 15 % leak, as displayed: the expired volume is not the breath's."""
    leak = take.optional("leak_pct")
    if leak is not None and Decimal(fixed(leak, 0)) > LARGE_LEAK:
        raise unavailable(f"not valid: leak {fixed(leak, 0)} % is over {LARGE_LEAK} %")


def set_volume_returns(take: Inputs) -> None:
    """Closed where a set volume did not come back: a leak that nobody had to read off.

    Only in volume control, where no other volume was given; bounds as of the leak's own rule.
    """
    family = family_of(take)
    if family is None or family.inflation != "volume":
        return
    given, back = take.optional("vt_set"), take.optional("vte")
    if not given or back is None:
        return
    lost = fixed((given - back) * 100 / given, 0)
    if given - back >= LEAST_LEAK_ML and Decimal(lost) > LARGE_LEAK:
        raise unavailable(f"not valid: {lost} % of the set volume did not come back")


def no_other_specimen(take: Inputs) -> None:
    """Closed where the specimen is known and is not arterial."""
    sample = take.word("sample")
    if sample not in (None, "unknown", "arterial", "art"):
        raise inapplicable(f"only for an arterial sample, not {sample}")


def arterial(take: Inputs) -> None:
    """Closed unless the specimen is known to be arterial (decision 25)."""
    no_other_specimen(take)
    if take.word("sample") in (None, "unknown"):
        raise unavailable("specimen is not known: only for an arterial sample", "sample")


def arterial_if_said(take: Inputs) -> None:
    """As `arterial`, but open where the caller does not mention the specimen."""
    if take.says("sample"):
        arterial(take)


def no_membrane_lung(take: Inputs) -> None:
    """Closed on extracorporeal gas exchange: the membrane's work would be read as the lung's."""
    support = take.word("ecmo")
    if support is not None and support not in NO_SUPPORT:
        raise inapplicable(f"not valid on extracorporeal support ({support.upper()})")


def readable_saturation(take: Inputs) -> None:
    """Closed above an SpO2 of 97 % (decision 18)."""
    spo2 = take.optional("spo2")
    if spo2 is not None and spo2 > HIGHEST_SPO2:
        raise inapplicable("SpO2 over 97 %: the curve is too flat to read oxygenation from")
