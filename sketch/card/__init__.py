"""The part card: what is typed of a part, and its fields, lists and picture."""
