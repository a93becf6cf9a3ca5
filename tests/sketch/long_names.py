"""A drawing with more alternatives, cases and longer names than a sheet is likely to meet."""

from __future__ import annotations

from tests.sketch.sheets import EXAMPLES

LONG = "Northern Timber and Sawmill Machinery Maintenance Cooperative, Hydraulics of the Second Line"
TITLE_BLOCK = f"""
[sheet]
client = "{LONG}"
project = "Renewal of the suction side of the power unit after the second failure in one winter, part B"
site = "{LONG}, hall 14, mezzanine above the edger, north side"
drawn_by = "Maximiliane Featherstonehaugh-Przybyszewska"
checked = "Bartholomew Longfellow-Abernathy the Younger"
revision = "B"
revisions = [
    ["A", "2026-01-15", "first issue, before the readings of the cold week"],
    ["B", "2026-03-31", "larger header and the strainer moved outside of the tank, as agreed"],
]
company = ["Consultants for sawmills and quarries", "Street of the Long Names 1234", "12345 Somewhere"]
"""
CASES = """
[cases."a very cold morning after a weekend"]
fluid.temperature = "5 degC"
[cases."strainer nearly due for cleaning"]
fluid.temperature = "20 degC"
[cases."hottest hour in summer"]
fluid.temperature = "70 degC"
[cases."low-pressure day with a storm"]
site.weather_allowance = "3 kPa"
[cases."warm, at the minimum level"]
level = "minimum"
fluid.temperature = "45 degC"
"""
ALTERNATIVES = "".join(
    f'\n[alternatives."{name}"]\nnote = "Asked for by those who run it."\nfluid.temperature = "{warm} degC"\n'
    for name, warm in (
        ("A thinner grade of oil in the whole machine", 20),
        ("Warm the oil before starting in the morning", 28),
        ("Run the pump slower while it is cold", 36),
    )
)


def long_named(name: str) -> str:
    """The text of an example with two alternatives, and more of everything."""
    text = (EXAMPLES / f"{name}.toml").read_text("utf-8").replace("format = 1", "format = 2")
    return text + CASES + ALTERNATIVES + TITLE_BLOCK
