"""Station pressure from elevation or barometer."""
