"""Units, their beds and their policies."""

from datetime import datetime

from sqlmodel import Field

from app.record.tables.row import RecordRow, record_table, supersedes, unique_key


class UnitRow(RecordRow, table=True):
    """A unit as described from then on. `unit_id` is its identity: the id of its first row."""

    __tablename__ = "unit"
    __table_args__ = record_table("unit")

    supersedes_id: str | None = supersedes("unit")
    unit_id: str = Field(foreign_key="unit.id", index=True)
    code: str
    name: str
    zone: str
    """An IANA zone name, such as Europe/Berlin."""
    shift_times: str = ""
    """Local starts of the shifts, such as "07:00 19:00"."""


class BedRow(RecordRow, table=True):
    """A bed as described from then on. `bed_id` is its identity: the id of its first row."""

    __tablename__ = "bed"
    __table_args__ = record_table("bed")

    supersedes_id: str | None = supersedes("bed")
    bed_id: str = Field(foreign_key="bed.id", index=True)
    unit_id: str = Field(foreign_key="unit.id", index=True)
    code: str
    position: int
    note: str = ""
    in_use: bool = True


class PolicyRow(RecordRow, table=True):
    """One version of a unit's policy in its file form (decision 13)."""

    __tablename__ = "policy"
    __table_args__ = record_table("policy", unique_key("policy", "unit_id", "version"))
    moment_column = "in_force_from"

    supersedes_id: str | None = supersedes("policy")
    unit_id: str = Field(foreign_key="unit.id")
    version: int
    toml: str
    reason: str
    in_force_from: datetime
