"""The second scale of the pressure profile. Importing this module loads pyqtgraph."""

from __future__ import annotations

import pyqtgraph as pg


class VacuumAxis(pg.AxisItem):  # type: ignore[misc]  # pyqtgraph ships no types
    """An axis that reads pressures as vacuum: what a gauge at that place would show."""

    def __init__(self) -> None:
        super().__init__("right")
        self.atmosphere = 0.0
        self.scale_to_vacuum = 1.0

    def read(self, atmosphere: float, scale_to_vacuum: float) -> None:
        """Read from that atmosphere down, so many vacuum units to a pressure unit of the heights."""
        if (atmosphere, scale_to_vacuum) != (self.atmosphere, self.scale_to_vacuum):
            self.atmosphere, self.scale_to_vacuum = atmosphere, scale_to_vacuum
            self.picture = None  # of ticks that have moved under unchanged heights
            self.update()

    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[float, list[float]]]:
        """Round vacuum figures, at the absolute heights where they stand."""
        low, high = (self.atmosphere - value for value in (maxVal, minVal))
        factor = self.scale_to_vacuum
        ticks = super().tickValues(low * factor, high * factor, size)
        return [
            (spacing / factor, [self.atmosphere - value / factor for value in values if self._is(value)])
            for spacing, values in ticks
        ]

    def _is(self, vacuum: float) -> bool:
        """Whether there is such a vacuum: none, all of the atmosphere, or one between."""
        return -1e-9 <= vacuum <= self.atmosphere * self.scale_to_vacuum + 1e-9

    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        """The vacuum at each height."""
        factor = self.scale_to_vacuum
        shown = [(self.atmosphere - value) * factor for value in values]
        texts: list[str] = super().tickStrings(shown, 1.0, spacing * factor)
        return texts
