"""The calculation: a drawing goes in, an inlet ledger comes out. Knows nothing of windows."""
