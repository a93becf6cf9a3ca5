"""The views below the drawing: each a model without widgets and a view of it."""
