"""The window and the sheet: draws what `solver` worked out and edits the drawing. Computes no physics."""
