"""A TOML text goes in; a drawing as frozen values, or refusals with their place, come out, and text again."""
