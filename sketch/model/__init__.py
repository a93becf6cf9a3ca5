"""The open drawing: its undo steps, what the solver makes of it, and its file."""
