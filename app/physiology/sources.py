"""Where every formula, bound and check comes from, said once.

`seen` is honest about it: "read" (the text itself), "abstract", "copy" (a page or file that quotes
the source), "from memory" (published, not seen by the maintainers), "decision" (DEVELOPERS.md) or
"arithmetic".
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from msgspec import Struct

Seen = Literal["read", "abstract", "copy", "from memory", "decision", "arithmetic"]


class Source(Struct, frozen=True):
    """One source: its short key, what a reader can look up, and how much of it was seen."""

    key: str
    citation: str
    seen: Seen

    def __str__(self) -> str:
        return f"{self.citation} ({self.seen})"


_ALL = (
    Source("S-NET", "ARDS Network, N Engl J Med 2000;342:1301, centimetre form", "copy"),
    Source(
        "S-NET2", "NHLBI ARDS Network protocol card, 2.3 kg per inch; 70 in male = 73 kg", "copy"
    ),
    Source("S-NETT", "NHLBI ARDS Network card, FiO2/PEEP pairs, lower-PEEP row", "copy"),
    Source(
        "S-DP",
        "Driving pressure and respiratory-system compliance: PMC7449829, Table 1; Crit Care "
        "2019;23:367. Amato, N Engl J Med 2015, from memory",
        "read",
    ),
    Source(
        "S-DPA",
        "Soundoulounaki, Crit Care 2020;24:467: expiratory muscle activity in 79 % of occlusions "
        "in pressure support",
        "abstract",
    ),
    Source("S-CDYN", "Teaching page of an open anaesthesia text: static and dynamic", "read"),
    Source(
        "S-TAU", "Letter, Crit Care 2013, doi 10.1186/cc12561, Table 1, two model lungs", "read"
    ),
    Source(
        "S-TAU2",
        "Six methods for expiratory time constants, ICM Experimental 2024, "
        "doi 10.1186/s40635-024-00612-z, introduction",
        "read",
    ),
    Source(
        "S-RAW",
        "Airway resistance from peak and plateau at constant flow: Hess & Kacmarek; Cairo",
        "from memory",
    ),
    Source(
        "S-AP",
        "Auto-PEEP by end-expiratory hold: Hess & Kacmarek; Cairo. AARC guideline, Respir Care "
        "2024;69:1042, asks for it (abstract)",
        "from memory",
    ),
    Source(
        "S-AMA", "A college's calculation sheet with worked gas and dead-space examples", "read"
    ),
    Source("S-IE", "Teaching page on inspiratory time: 12/min, 1 s gives 1:4", "read"),
    Source("S-IE2", "Question-and-answer page on I:E: 15/min, 1.2 s gives 1:2.3", "read"),
    Source("S-IE3", "Timing formulas of a respiratory student page", "read"),
    Source(
        "S-RSBI", "Yang & Tobin, N Engl J Med 1991;324:1445; the paper seen in summaries", "copy"
    ),
    Source("S-RSBI2", "Encyclopedia article on the index: 25/min at 250 mL is 100", "read"),
    Source("S-BER", "Berlin definition, JAMA 2012;307:2526, as tabled in PMC8450703", "copy"),
    Source("S-RICE", "Rice, Chest 2007;132:410: S/F = 64 + 0.84 × P/F, SpO2 ≤ 97 %", "abstract"),
    Source(
        "S-GLO",
        "Global ARDS definition, Matthay, Am J Respir Crit Care Med 2024;209:37; bands in a "
        "criteria page",
        "abstract",
    ),
    Source("S-BJA", "BJA Education 2022;22:364 (PMC9217163), Table 1", "read"),
    Source("S-PAL15", "PALICC 2015 severity table (PMC6589490, T1)", "read"),
    Source("S-PAL2", "PALICC-2 2023 (PMC9848214, T5): SpO2 ≤ 97 %", "read"),
    Source("S-VR09", "Sinha, Br J Anaesth 2009;102:692 and Crit Care 2013: 5 kPa form", "abstract"),
    Source("S-VR19", "Sinha, Am J Respir Crit Care Med 2019;199:333", "abstract"),
    Source(
        "S-MP16",
        "Gattinoni, Intensive Care Med 2016;42:1567; the simplified form as a public file quotes "
        "its supplement",
        "copy",
    ),
    Source("S-MP19", "Giosa, ICM Experimental 2019;7:61 (PMC6879677)", "abstract"),
    Source(
        "S-MPPC",
        "Becher, Intensive Care Med 2019;45:1321, as public code quotes it; Trinkle 2022: off by "
        "19 % on average (abstract)",
        "copy",
    ),
    Source("S-ROX", "Roca, Am J Respir Crit Care Med 2019;199:1368", "abstract"),
    Source("S-PAO2", "Alveolar gas, simplified form, on several teaching pages", "read"),
    Source("S-PAO2F", "Alveolar gas, full form, in physiology notes and an encyclopedia", "read"),
    Source("S-EGAN", "Answer key of a respiratory-care textbook's workbook, chapter 12", "read"),
    Source("S-HH", "Acid-base chapter, Tables 47-1 and 47-2", "read"),
    Source(
        "S-AVD",
        "Bhalla, Respir Care 2015;60:1548: an end-tidal fraction is another measure",
        "abstract",
    ),
    Source("S-CYL", "Tank-factor how-to page (E 0.28 L/psi, 200 psi kept); D example", "read"),
    Source("S-CYL2", "General cylinder how-to page (E 0.28: 308 min)", "read"),
    Source("S-CYL3", "Nagelhout & Zaglaniczky 2001, Table 14-1, as a nursing page quotes", "copy"),
    Source(
        "S-NIST",
        "mmHg 133.322387415 Pa, conventional cmH2O 98.0665 Pa, psi 6894.757 Pa: NIST SP 811, "
        "appendix B; the numbers seen in public unit tables",
        "from memory",
    ),
    Source("S-SEV", "Severinghaus, J Appl Physiol 1979;46:599, the equation", "abstract"),
    Source("S-ELL", "Ellis, J Appl Physiol 1989;67:902, the inverse, in a code file", "copy"),
    Source("S-PO2", "README of a small public saturation library: 8.0 kPa is 0.9058175", "read"),
    Source("S-HUMT", "Table page of saturated water content, 19 to 41 °C", "read"),
    Source("S-CRC", "CRC Handbook, 62nd ed., saturated water vapour, as reproduced", "copy"),
    Source(
        "S-BUCK", "Buck's vapour-pressure equation, J Appl Meteorol 1981, 1996 form", "from memory"
    ),
    Source("S-HUM12", "AARC humidification guideline, Respir Care 2012;57:782", "abstract"),
    Source("S-DEC", "Decision of this project (numbered in DEVELOPERS.md)", "decision"),
    Source("CALC", "Arithmetic with the formula shown", "arithmetic"),
)
SOURCES: Mapping[str, Source] = MappingProxyType({source.key: source for source in _ALL})
