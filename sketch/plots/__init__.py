"""Plots below the drawing: curves over one figure, and the pressure along the line."""
