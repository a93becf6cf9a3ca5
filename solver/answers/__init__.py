"""A drawing and a question go in: how far a figure may go, or what a million variants of it come to."""
