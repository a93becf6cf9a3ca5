"""A solution goes in; findings, each held to a criterion, and one headline for each pump come out."""
