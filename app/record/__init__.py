"""What was written and by whom: rows are added, never changed; frozen facts go upward."""
