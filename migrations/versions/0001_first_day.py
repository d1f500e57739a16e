"""The record from its first day: everything that is written down, worked out, or typed."""

from alembic import op
from sqlalchemy import CheckConstraint

from app.record.new_tables import (
    add_indexes,
    add_unique,
    day,
    flag,
    moment,
    number,
    only_grows,
    record_table,
    whole,
    words,
)

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

OF_COURSE = ("course_id",)


def upgrade() -> None:
    """Make every table."""
    staff_and_places()
    courses()
    what_stands_over_a_course()
    chart()
    events_and_handoffs()
    chain()
    projections()
    working_tables()


def downgrade() -> None:
    """The record only grows: the way back is a backup."""
    raise RuntimeError("a revision of the record is not taken back; restore a backup")


def staff_and_places() -> None:
    """Who works where, and by which policy."""
    record_table("staff", words("sign_in_name"), words("display_name"), unique=(("sign_in_name",),))
    record_table(
        "staff_standing",
        words("staff_id", to="staff"),
        words("role"),
        words("password_hash"),
        flag("active"),
        moment("since"),
        index=(("staff_id",),),
    )
    record_table(
        "unit",
        words("unit_id", to="unit"),
        words("code"),
        words("name"),
        words("zone"),
        words("shift_times"),
        index=(("unit_id",),),
    )
    record_table(
        "bed",
        words("bed_id", to="bed"),
        words("unit_id", to="unit"),
        words("code"),
        whole("position"),
        words("note"),
        flag("in_use"),
        index=(("bed_id",), ("unit_id",)),
    )
    record_table(
        "policy",
        words("unit_id", to="unit"),
        whole("version"),
        words("toml"),
        words("reason"),
        moment("in_force_from"),
        unique=(("unit_id", "version"),),
    )


def courses() -> None:
    """Patients and their courses of support."""
    record_table("patient")
    record_table(
        "patient_details",
        words("patient_id", to="patient"),
        words("record_number"),
        words("name"),
        day("birth_date"),
        whole("age_y", null=True),
        words("code_limits"),
        words("isolation"),
        words("allergies"),
        words("reason_for_support"),
        index=(("patient_id",), ("record_number",)),
    )
    record_table(
        "course",
        words("patient_id", to="patient"),
        words("unit_id", to="unit"),
        moment("support_started_at"),
        words("origin"),
        words("source_key", null=True),
        unique=(("source_key",),),
        index=(("patient_id",), ("unit_id",)),
    )


def what_stands_over_a_course() -> None:
    """What holds for a course from a moment on."""
    record_table(
        "course_end",
        words("course_id", to="course"),
        moment("ended_at", null=True),
        words("kind"),
        words("words"),
        index=(OF_COURSE,),
    )
    record_table(
        "bed_stay",
        words("course_id", to="course"),
        words("bed_id", null=True, to="bed"),
        moment("from_at"),
        index=(OF_COURSE,),
    )
    record_table(
        "body_size",
        words("course_id", to="course"),
        moment("observed_at"),
        number("height_cm"),
        words("height_method"),
        words("pbw_sex"),
        number("weight_kg"),
        words("source"),
        index=(OF_COURSE,),
    )
    record_table(
        "target",
        words("course_id", to="course"),
        number("spo2_low"),
        number("spo2_high"),
        number("tidal_volume_ml_kg"),
        words("ordered_by"),
        moment("ordered_at", null=True),
        index=(OF_COURSE,),
    )
    airway()


def airway() -> None:
    """Which airway is in place."""
    record_table(
        "airway",
        words("course_id", to="course"),
        moment("observed_at"),
        words("act"),
        words("category"),
        number("size_mm"),
        number("depth_cm"),
        words("depth_reference"),
        words("side"),
        words("difficult"),
        words("words"),
        index=(OF_COURSE,),
    )


def chart() -> None:
    """Assessments and their readings."""
    record_table(
        "assessment",
        words("course_id", to="course"),
        words("kind"),
        moment("observed_at"),
        words("mode_family"),
        words("source"),
        flag("signed"),
        index=(("course_id", "observed_at"),),
    )
    record_table(
        "assessment_strike",
        words("course_id", to="course"),
        words("assessment_id", to="assessment"),
        words("reason"),
        index=(OF_COURSE,),
    )
    record_table(
        "co_signature",
        words("course_id", to="course"),
        words("assessment_id", to="assessment"),
        words("words"),
        index=(OF_COURSE,),
    )
    readings()


def readings() -> None:
    """The table that grows by some twenty rows with each assessment."""
    record_table(
        "reading",
        words("assessment_id", to="assessment"),
        words("course_id", to="course"),
        words("field"),
        moment("observed_at"),
        words("state"),
        number("number"),
        words("word"),
        words("raw"),
        words("unit_typed"),
        words("reason"),
        words("marks"),
        words("question"),
        CheckConstraint(
            "state <> 'not_measured' OR (number IS NULL AND word = '')",
            name="not_measured_has_no_value",
        ),
        index=(("assessment_id",), ("course_id", "field", "observed_at")),
    )


def events_and_handoffs() -> None:
    """What happened, and what one shift says to the next."""
    record_table(
        "event",
        words("course_id", to="course"),
        words("kind"),
        moment("observed_at"),
        words("words"),
        index=(OF_COURSE,),
    )
    record_table(
        "event_end",
        words("course_id", to="course"),
        words("event_id", to="event"),
        moment("ended_at"),
        words("words"),
        index=(OF_COURSE,),
    )
    record_table(
        "handoff_note",
        words("course_id", to="course"),
        words("heading"),
        words("words"),
        moment("observed_at"),
        index=(OF_COURSE,),
    )
    record_table(
        "handoff",
        words("course_id", to="course"),
        words("state"),
        words("from_staff_id", null=True, to="staff"),
        words("to_staff_id", null=True, to="staff"),
        words("words"),
        words("snapshot", null=True),
        words("snapshot_sha256", null=True),
        index=(OF_COURSE,),
    )


def chain() -> None:
    """The audit lines, each sealed by the one before."""
    op.create_table(
        "audit_line",
        whole("seq", key=True),
        moment("at"),
        words("staff_id", null=True, to="staff"),
        words("act"),
        words("subject_table", null=True),
        words("subject_id", null=True),
        words("course_id", null=True, to="course"),
        words("workstation"),
        words("detail"),
        words("rows_sha256"),
        words("previous_hash"),
        words("hash"),
        sqlite_with_rowid=False,
    )
    add_unique("audit_line", ("previous_hash",), ("hash",))
    add_indexes("audit_line", ("staff_id",), ("course_id",))
    only_grows("audit_line", ("seq",), ("previous_hash",), ("hash",))


def projections() -> None:
    """What the board reads; worked out again from the record at any time."""
    op.create_table(
        "bed_summary",
        words("course_id", to="course", key=True),
        words("unit_id", to="unit"),
        whole("version"),
        whole("changed_seq"),
        words("cells"),
        moment("next_edge_at", null=True),
    )
    add_indexes("bed_summary", ("unit_id",))
    op.create_table(
        "occupancy", words("bed_id", to="bed", key=True), words("course_id", to="course")
    )
    add_unique("occupancy", ("course_id",))


def working_tables() -> None:
    """What comes and goes while people work."""
    op.create_table(
        "session",
        words("token_sha256", key=True),
        words("staff_id", to="staff"),
        words("csrf_secret"),
        moment("created_at"),
        moment("last_seen_at"),
        moment("ends_at"),
        words("workstation"),
    )
    add_indexes("session", ("staff_id",))
    op.create_table(
        "draft",
        words("staff_id", to="staff", key=True),
        words("course_id", to="course", key=True),
        words("kind", key=True),
        words("typed"),
        moment("saved_at"),
    )
    op.create_table(
        "throttle", words("key", key=True), whole("failures"), moment("until", null=True)
    )
    op.create_table(
        "idempotency_key",
        words("staff_id", to="staff", key=True),
        words("key", key=True),
        words("content_sha256"),
        words("answer"),
        moment("saved_at"),
    )
    add_indexes("idempotency_key", ("saved_at",))
