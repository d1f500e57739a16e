"""What goes wrong in this room, as one family: each member carries what it complains about."""


class PhysiologyError(Exception):
    """The family. A number that cannot be worked out is an answer, not one of these."""


class UnitError(PhysiologyError):
    """A unit that cannot be used; `unit` is the text as it was given."""

    def __init__(self, unit: str, message: str) -> None:
        super().__init__(message)
        self.unit = unit


class UnknownUnitError(UnitError):
    """The text is no unit that the registry file defines."""

    def __init__(self, unit: str) -> None:
        super().__init__(unit, f"{unit[:40]!r} is not a unit known here")


class WrongDimensionError(UnitError):
    """Both units are known but measure different things (litres are no kilopascals)."""

    def __init__(self, unit: str, wanted: str) -> None:
        super().__init__(unit, f"{unit[:40]!r} does not measure what {wanted[:40]!r} measures")
        self.wanted = wanted


class CasesError(PhysiologyError):
    """A file of cases cannot be read as one: not JSON, or not a list. `problem` says what it is."""

    def __init__(self, problem: str) -> None:
        super().__init__(f"the cases cannot be read: {problem}")
        self.problem = problem
