"""The elevation view: what can be held, how it snaps, how a drag goes, and the widget."""
