"""Run outlines, bends, tangents, what is under the level."""
