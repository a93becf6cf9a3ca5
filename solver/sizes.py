"""Standard pipe, tube and hose bores; roughness."""
