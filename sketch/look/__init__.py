"""How things look wherever they stand: colours, pens, small marks, sentences as they are set."""
