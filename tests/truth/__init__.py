"""Machines with a known fault, made at random, and what the readings of them are said to come from."""
