"""A network with its flows goes in; floor, entries in walking order and margin of each pump come out."""
