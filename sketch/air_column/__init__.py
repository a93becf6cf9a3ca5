"""The atmosphere as a column that is spent slice by slice: as data, painted, and as a widget."""
