"""Site, fluid and size by name go in; pressure, density, viscosity, dissolved air and bores come out."""
