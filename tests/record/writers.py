"""What a writer in another process does: one line after another, as fast as it can."""

from datetime import UTC, datetime

from app.record.database import Database
from app.record.tables import PatientRow


def write_many(url: str, author: str, times: int) -> None:
    database = Database(url)
    for _ in range(times):
        with database.writing(lambda: datetime.now(UTC), author) as writing:
            writing.add(row := PatientRow())
            writing.audit("admit", subject=row)
    database.close()
