"""Element table and flow -> drops, in one array expression."""
