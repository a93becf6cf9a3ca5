"""A drawing and what was seen on the machine go in; what explains it, and how to start the pump, come out."""
