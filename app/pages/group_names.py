"""What each group of fields is called on every page, in the order of the round at the bed."""

from app.charting.field import Group

GROUP_NAMES = {
    Group.MONITOR: "At the monitor",
    Group.AIRWAY: "At the tube",
    Group.SETTINGS: "Told to the machine",
    Group.MEASURED: "Read at the machine",
    Group.HOLDS: "Holds",
    Group.PATIENT: "The patient",
    Group.HUMIDIFICATION: "Humidifier and circuit",
    Group.SAFETY: "Safe to leave",
    Group.ALARMS: "Alarms set",
    Group.GAS: "Blood gas",
}
"""Those in which a person charts; the mode stands above them."""
