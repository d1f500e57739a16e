"""What a blood gas says: pH, and oxygen where the specimen is known to be arterial."""

from app.rules.watch.seen import Seen


def gas_series(seen: Seen) -> None:
    """pH of any specimen that is not venous; PaO2 of an arterial one only (decision 25)."""
    specimen = seen.word("gas_specimen")
    if specimen == "venous":
        seen.cannot("ph", "venous sample", applicable=False)
    else:
        seen.measured("ph", "ph")
    if specimen == "arterial":
        seen.measured("pao2", "pao2")
    else:
        seen.cannot("pao2", "specimen not said to be arterial")
