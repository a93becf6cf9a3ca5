"""A drawing goes in; changes that buy margin come out, each an edit of it that was solved in every case."""
