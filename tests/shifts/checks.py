"""What a therapist types at a bed: plain mechanics on volume control (scenario 3 of the unit)."""

from tests.client import Answer, Browser
from tests.ward import Ward

PLAIN = {
    "mode_family": "ac_vc",
    "fio2_set": "45",
    "peep_set": "12",
    "tidal_volume_set": "420",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "flow_pattern": "constant",
    "trigger_flow_set": "2",
    "resp_rate_obs": "20",
    "tidal_volume_obs": "420",
    "minute_vent_obs": "8.4",
    "peak_inspiratory_pressure_obs": "32",
    "mean_airway_pressure_obs": "17",
    "plateau_pressure_obs": "26",
    "hold_passive": "yes",
    "peep_total": "12",
    "spo2": "94",
    "heart_rate": "88",
    "airway_depth_cm": "22",
    "cuff_pressure_cmh2o": "26",
}


def chart(browser: Browser, ward: Ward, bed: str = "L3", **typed: str) -> Answer:
    """Chart a full check at the bed."""
    action = f"/courses/{ward.courses[bed]}/assess"
    browser.get(action)
    return browser.submit(action, **{**PLAIN, **typed})


def without_plateau(reason: str) -> dict[str, str]:
    """The same check with no hold, and why it was not done."""
    holds = ("plateau_pressure_obs", "hold_passive", "peep_total")
    typed = {code: text for code, text in PLAIN.items() if code not in holds}
    return typed | {"reason.plateau_pressure_obs": reason, "reason.peep_total": reason}
