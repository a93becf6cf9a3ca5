"""The elevation, painted by one path for screen, PDF, SVG and PNG."""
