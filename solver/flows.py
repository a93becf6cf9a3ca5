"""Demands up a tree."""
