"""`leeboard import ...`: bring files in."""

from app.commands.desk import lay_out
from app.exchange.commands import import_app as app

app.callback(help="Bring files in.")(lay_out)
