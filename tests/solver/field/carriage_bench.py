"""Three readings of the carriage pump's line, cold, warm and at rest, and all that may explain them."""

from __future__ import annotations

from solver.answers import inputs
from solver.field.causes import causes
from solver.field.gauges import Band, Gauge
from solver.field.places import Place
from solver.field.prediction import ReadingNetworks
from solver.field.states import Reading
from solver.layout import file
from solver.layout.parts import Level
from solver.ledger.solve import solve
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
COLD = inputs.temperature(DRAWN, ("",), 298.15, Level.MINIMUM)
READINGS = (
    Reading(COLD, Level.MINIMUM, Place("carriage"), Band(9e3, 9e3), Gauge("A")),
    Reading(DRAWN, Level.MINIMUM, Place("carriage", "riser", 0.2), Band(1e3, 1e3), Gauge("B")),
    Reading(DRAWN, Level.MINIMUM, Place("carriage"), Band(4e3, 4e3), Gauge("A"), resting=True),
)
BENCH = ReadingNetworks(READINGS)
ALL = tuple(causes(DRAWN, solve(DRAWN).pumps["carriage"], READINGS))
