"""A drawing with readings of its gauges, for the views that show them."""

from __future__ import annotations

from pathlib import Path

from tests.drawings import SHIPPED

WALL = next(path for path in SHIPPED if path.stem == "over-the-bund-wall").read_text(encoding="utf-8")

GAUGE = (
    'gauge = { name = "A", over_port = "0 m", tube = "empty", class = 1.0, range = "60 kPa", zero = "0 kPa" }'
)
STATE = 'state.fluid.temperature = "35 degC"\nstate.levels.store = "0.75 m"\nmeasured_at = "line"\n'

READINGS = f"""
[[readings]]
when = "2026-03-04 09:30"
pump = "transfer"
vacuum = "9 kPa"
{GAUGE}
{STATE}
[[readings]]
when = "2026-02-01"
pump = "transfer"
run = "crossing"
distance = "2.0 m"
vacuum = "13 kPa"

[[readings]]
when = "2026-04-01"
pump = "transfer"
vacuum = "40 kPa"
{GAUGE}
{STATE}
[[readings]]
when = "2025-01-01"
pump = "transfer"
run = "no such run"
distance = "1 m"
vacuum = "3 kPa"
"""
"""Higher than expected, as expected, past what is allowed, and without a place."""


def gauged(folder: Path, readings: str = READINGS) -> Path:
    """The line over the wall with readings, in a file."""
    path = folder / "gauged.toml"
    path.write_text(WALL.replace("format = 1", "format = 2") + readings, encoding="utf-8")
    return path


MONTHS = (
    ("2026-01-10", 7.2),
    ("2026-02-12", 7.6),
    ("2026-03-15", 8.4),
    ("2026-04-10", 9.5),
    ("2026-05-08", 11.2),
)


def over_months(folder: Path) -> Path:
    """The shear with readings of one gauge while its strainer, which has no bypass, blocks; in a file."""
    text = next(path for path in SHIPPED if path.stem == "shear-started-dry").read_text(encoding="utf-8")
    state = 'state.fluid.temperature = "20 degC"\nstate.levels.tank = "0.60 m"\nmeasured_at = "line"\n'
    readings = (
        f'\n[[readings]]\nwhen = "{when}"\npump = "shear"\nvacuum = "{shown} kPa"\n{GAUGE}\n{state}'
        'state.pumps.shear.speed = "1450 rpm"\n'
        for when, shown in MONTHS
    )
    path = folder / "months.toml"
    text = text.replace("format = 1", "format = 2").replace(', bypass = "0.2 bar"', "")
    path.write_text(text + "".join(readings), encoding="utf-8")
    return path
