"""The checks, one small function each."""
