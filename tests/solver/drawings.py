"""A layout file with every table, key and way of writing TOML, for the tests of reading and writing."""

from pathlib import Path

SHIPPED = sorted((Path(__file__).parents[2] / "layouts").glob("*.toml"))

EVERYTHING = '''# A drawing that uses every table. Comments stay.
format = 1
title = 'Two tanks and a header'   # a literal text
notes = """
Two lines,
the second one."""
units = "SI"

[site]
barometer = "24.6 inHg"            # station pressure
weather_allowance = "0.3 inHg"

[fluid]
name = "House blend"               # in no catalogue, so its figures are typed
temperature = "45 degC"
coldest_start = "5 °C"
density = [["60 degF", "54.0 lb/ft^3"]]
viscosity = [
    ["40 degC", "46 cSt"],         # by the supplier
    ["100 degC", "6.8 cSt"],
]
vapor_pressure = "0 Pa"
dissolved_air = 0.09

[reservoirs.tank]
outline = [["0 m", "0 m"], ["1.2 m", "0 m"], ["1.2 m", "0.7 m"], ["0 m", "0.7 m"]]
depth = "2'"
normal_level = "0.55 m"
minimum_level = "0.40 m"
pressure = "0.05 bar"

[reservoirs."day tank"]
outline = [["3 m", "0 m"], ["4 m", "0 m"], ["3.5 m", "1 m"]]
depth = "1 ft 6 in"
normal_level = "0.5 m"
minimum_level = "0.5 m"

[intakes]
nozzle = { reservoir = "day tank", at = ["3.5 m", "0.2 m"], kind = "plain end", bore = "52.5 mm" }

[intakes.strainer]
reservoir = "tank"
at = ["0.9 m", "0.12 m"]
kind = "strainer"
size = "NPS 2 schedule 40"
[intakes.strainer.screen]
mesh = "100 per inch"
wire = "0.0045 in"
area = "0.06 m^2"
blocked = 0
bypass = "0.2 bar"

[fittings]
bend-tester.at = ["1.2 m", "0.9 m"]
bend-tester.kind = "known K"
bend-tester.size = "NPS 2 schedule 40"
bend-tester.k = 2

[fittings.device]
at = ["2.6 m", "0.8 m"]
kind = "flow coefficient"
bore = "50 mm"
kv = "30 m^3/h"

[fittings.cooler]
at = ["2.2 m", "0.8 m"]
kind = "known drop"
bore = "50 mm"
drop = "0.1 bar"
flow = "100 L/min"

[fittings.filter]
at = ["2.0 m", "0.8 m"]
kind = "filter"
bore = "50 mm"
screen = { drops = [["118 L/min", "0.03 bar"]], viscosity = "32 cSt", density = "870 kg/m^3", blocked = 0.25 }

[tees.header]
at = ["1.5 m", "0.9 m"]
size = "NPS 2 schedule 40"

[pumps.carriage]
at = ["1.8 m", "0.9 m"]            # centre of the port
bore = "52.5 mm"
type = "vane"
displacement = "82 cm^3/rev"
speed = "1450 rpm"
rated_speed = "1450 rpm"
rated_density = "870 kg/m^3"
limit = { vacuum = [["1200 rpm", "7 inHg"], ["1800 rpm", "5 inHg"]] }
start_viscosity = "860 cSt"
credit = true

[pumps.saw]
at = ["1.5 m", "1.2 m"]
bore = "2 1/16 in"
type = "gear"
flow = "30 gpm"
limit.npsh = "3 m"

[runs.riser]
from = "strainer"
to = "bend-tester"
via = [
    ["0.9 m", "0.8 m"],            # above the lid
    ["1.2 m", "0.8 m"],
]
size = "NPS 2 schedule 40"
roughness = "0.046 mm"
bend_radius = "76 mm"
out_of_plane = "0.3 m"

[runs.lead]
from = "bend-tester"
to = "header"
bore = "52.5 mm"
material = "commercial steel"
bend = "long radius"

[runs.left]
from = "header"
to = "carriage"
bore = "52.5 mm"

[runs.right]
from = "header"
to = "saw"
bore = "52.5 mm"

[alternatives."Wider, on the day tank"]
note = "By dotted keys."
without = ["strainer", "tank", "riser", "bend-tester", "fittings.device.kv"]
runs.lead.from = "nozzle"
runs.lead.bore = "80 mm"
fittings.device.k = 3                # replaces the coefficient
fittings.device.kind = "known K"
pumps.carriage.limit = { pressure = "0.8 bar" }

[alternatives.Colder]
[alternatives.Colder.fluid]
temperature = "5 degC"
[alternatives.Colder.pumps.saw]
size = "NPS 2 schedule 40"
# the end
'''
