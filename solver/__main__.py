"""The ledger in a terminal: text, JSON, CSV."""
