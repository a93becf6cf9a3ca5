"""The sheet for a client: pages, what stands on them, and their way to a file."""
