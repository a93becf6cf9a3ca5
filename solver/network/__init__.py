"""A drawing goes in; one row per element, the graph they make and the flow through each row come out."""
