"""What is said of a policy that cannot be used."""


class PolicyError(ValueError):
    """A policy that cannot be used; `where` names the entry."""

    def __init__(self, where: str, what: str) -> None:
        super().__init__(f"{where}: {what}")
        self.where = where
        self.what = what
