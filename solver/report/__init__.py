"""A solution and its findings go in; text, JSON and CSV come out."""
