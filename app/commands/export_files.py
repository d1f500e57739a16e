"""`leeboard export ...`: write files out."""

from app.commands.desk import lay_out
from app.exchange.commands import export_app as app

app.callback(help="Write files out.")(lay_out)
