"""The catalogue under headings, for a reader who looks for one index among all."""

from app.physiology.catalogue import Index
from app.physiology.catalogue.breath import (
    BODY,
    EMPTYING,
    MECHANICS,
    POWER,
    VENTILATION,
    WEANING,
)
from app.physiology.catalogue.gases import (
    ACID_BASE,
    ALVEOLAR,
    CLASSES,
    DEAD_SPACE,
    MORE_DEAD_SPACE,
    MORE_OXYGENATION,
    OXYGENATION,
    PRINTED_FORMS,
    SATURATION,
)
from app.physiology.catalogue.supply import SUPPLY

INDEX_GROUPS: tuple[tuple[str, tuple[Index, ...]], ...] = (
    ("Body size and volume", BODY),
    ("Mechanics", (*MECHANICS, *EMPTYING)),
    ("Ventilation", VENTILATION),
    ("Oxygenation", (*OXYGENATION, *MORE_OXYGENATION)),
    ("Alveolar gas", ALVEOLAR),
    ("Bands", CLASSES),
    ("Weaning", WEANING),
    ("Mechanical power", POWER),
    ("Dead space", (*DEAD_SPACE, *MORE_DEAD_SPACE)),
    ("Acid and base", ACID_BASE),
    ("Saturation", SATURATION),
    ("For checking against printed examples", PRINTED_FORMS),
    ("Cylinders, units, humidity", SUPPLY),
)
"""Heading and indices, in reading order; every index stands under one heading."""
