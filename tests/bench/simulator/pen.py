"""From what is so to what is charted: noise, even digits, coughs, bad holds, copies and slips."""

from random import Random

from tests.bench.simulator.truth import Settings, Truth

EVEN, COUGH, BAD_HOLD, NO_PLATEAU, COPIED, SLIP, NOT_PASSIVE, TOTAL_PEEP = (
    0.25,
    0.02,
    0.03,
    0.30,
    0.03,
    0.003,
    0.04,
    0.25,
)
"""Shares of rows (open charts, and engineering judgement where they say nothing)."""

MEASURED = (
    "resp_rate_obs",
    "tidal_volume_obs",
    "peak_inspiratory_pressure_obs",
    "plateau_pressure_obs",
    "hold_passive",
    "peep_total",
    "spo2",
)


class Chart:
    """One hand that charts, with so much noise (cmH2O SD of one pressure)."""

    def __init__(self, noise: float, rng: Random, wild: float = 0.0) -> None:
        self._noise, self._rng, self._wild = noise, rng, wild
        self._last: dict[str, str] = {}

    def row(self, truth: Truth, settings: Settings, *, constant: bool) -> dict[str, str]:
        """Field code to typed text."""
        row = {
            "mode_family": "ac_vc",
            "tidal_volume_set": f"{settings.volume_ml:.0f}",
            "resp_rate_set": f"{settings.rate}",
            "peep_set": f"{settings.peep:g}",
            "fio2_set": f"{settings.fio2:.0f}",
            "flow_rate_set": f"{settings.flow}",
            "flow_pattern": "constant" if constant else "decelerating",
        }
        measured = self._measured(truth, settings, constant=constant)
        if self._last and self._happens(COPIED):
            measured = self._last
        self._last = measured
        return row | {code: self._slipped(text) for code, text in measured.items()}

    def _measured(self, truth: Truth, settings: Settings, *, constant: bool) -> dict[str, str]:
        resistive = truth.breath.peak - truth.breath.plateau
        peak = truth.breath.plateau + resistive * (1.0 if constant else 0.35)
        cough = self._rng.uniform(4, 12) if self._happens(COUGH) else 0.0
        peak_read = self._whole(peak + cough, self._noise)
        volume = self._rng.gauss(truth.expired_ml, 0.05 * truth.expired_ml)
        measured = {
            "resp_rate_obs": f"{max(settings.rate, self._whole(truth.rate, 0.9))}",
            "tidal_volume_obs": f"{volume:.0f}",
            "peak_inspiratory_pressure_obs": f"{peak_read}",
            "spo2": f"{min(100, self._whole(truth.saturation, 1.3))}",
        }
        if not self._happens(NO_PLATEAU):
            measured |= self._hold(truth, settings, peak_read)
        return measured

    def _hold(self, truth: Truth, settings: Settings, peak: int) -> dict[str, str]:
        bad = self._rng.uniform(2, 6) if self._happens(BAD_HOLD) else 0.0
        plateau = min(peak, self._whole(truth.breath.plateau + bad, self._noise))
        passive = "no" if self._happens(NOT_PASSIVE) else "yes"
        found = {"plateau_pressure_obs": f"{plateau}", "hold_passive": passive}
        if self._happens(TOTAL_PEEP):
            total = max(round(settings.peep), self._whole(truth.breath.total_peep, 0.4))
            found["peep_total"] = f"{total}"
        return found

    def _slipped(self, text: str) -> str:
        return f"{text}0" if text.isdigit() and self._happens(SLIP) else text

    def _whole(self, value: float, spread: float) -> int:
        if self._wild and self._happens(self._wild):
            spread *= 2.5
        read = round(self._rng.gauss(value, spread))
        if read % 2 and self._happens(EVEN):
            read += self._rng.choice((-1, 1))
        return read

    def _happens(self, share: float) -> bool:
        return self._rng.random() < share
