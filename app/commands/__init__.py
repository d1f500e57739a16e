"""What an operator types, one file per command or group; `app.cli` names them."""
