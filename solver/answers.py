"""Questions answered backwards."""
