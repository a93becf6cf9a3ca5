"""A drawing goes in; run outlines, what lies in its tanks and how lines follow a moved part come out."""
