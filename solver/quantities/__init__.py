"""Quantities as typed become SI floats and are written again in either display system; columns of figures."""
