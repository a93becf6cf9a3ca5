"""TOML in and out, alternatives, errors with their place."""
