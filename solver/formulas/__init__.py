"""Numbers go in, results come out with the formula, the numbers put in and the source: each formula once."""
