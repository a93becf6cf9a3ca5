"""Every formula of the calculation, once: a function, its symbols, its source."""
