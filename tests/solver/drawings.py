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

ARRANGEMENTS = """# Valves that are shut, a tank that is drawn down, a pump with strokes.
format = 1
title = "A press with a standby suction"
units = "SI"

[site]
elevation = "300 m"

[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "40 degC"

[limits]
thin_margin = 0.15                 # ours are old pumps
free_air = "3 %"
velocity_caution = "1.0 m/s"
velocity_stop = "1.4 m/s"
vapor_margin = "12 kPa"
straight_before_port = 4
running_viscosity = "13 cSt"

[reservoirs.tank]
outline = [
    ["0 m", "0.1 m"], ["1.0 m", "0 m"], ["1.0 m", "0.3 m"],
    ["1.6 m", "0.3 m"], ["1.6 m", "1.0 m"], ["0 m", "1.0 m"],
]
depth = "0.8 m"
normal_level = "0.85 m"
minimum_level = "0.55 m"
breather_drop = "0.7 kPa"
draw_down = "200 L"
return_at = ["1.4 m", "0.4 m"]
baffle = { x = "1.1 m", top = "0.5 m", bottom = "0.3 m" }

[reservoirs.accumulator]
outline = [["4 m", "0 m"], ["5 m", "0 m"], ["5 m", "1 m"], ["4 m", "1 m"]]
depth = "0.5 m"
normal_level = "0.8 m"
minimum_level = "0.5 m"
pressure = "0.2 bar"
sealed = true

[intakes.foot]
reservoir = "tank"
at = ["0.5 m", "0.25 m"]
kind = "foot valve"
size = "NPS 3 schedule 40"
screen = { mesh = "60 per inch", wire = "0.19 mm", area = "0.08 m^2" }

[intakes.standby]
reservoir = "tank"
at = ["0.7 m", "0.25 m"]
kind = "poppet foot valve"
size = "NPS 3 schedule 40"

[fittings.shut]
at = ["0.7 m", "1.2 m"]
kind = "gate valve"
size = "NPS 3 schedule 40"
state = "closed"

[fittings.throttle]
at = ["0.5 m", "1.2 m"]
kind = "globe valve"
size = "NPS 3 schedule 40"
opening = { kv = "40 m^3/h" }

[fittings.reducer]
at = ["2.0 m", "1.4 m"]
kind = "eccentric reducer"
size = "NPS 3 schedule 40"
other_size = "NPS 2 schedule 40"
length = "90 mm"

[fittings.taper]
at = ["2.2 m", "1.4 m"]
kind = "concentric reducer"
bore = "52.5 mm"
other_bore = "40 mm"

[fittings.bellows]
at = ["2.4 m", "1.4 m"]
kind = "flexible connector"
bore = "40 mm"
length = "250 mm"

[fittings.mixer]
at = ["2.6 m", "1.4 m"]
kind = "maker's curve"
bore = "40 mm"
[fittings.mixer.curve]
drops = [["50 L/min", "0.5 kPa"], ["100 L/min", "1.4 kPa"]]
viscosity = "32 cSt"
density = "870 kg/m^3"

[fittings.cooler]
at = ["2.8 m", "1.4 m"]
kind = "known K"
bore = "40 mm"
k = 1.2
k_re = 500

[tees.joint]
at = ["0.7 m", "1.4 m"]
size = "NPS 3 schedule 40"

[pumps.plunger]
at = ["3.2 m", "1.4 m"]
bore = "40 mm"
type = "reciprocating"
displacement = "0.3 L/rev"
speed = "300 rpm"
volumetric_efficiency = 0.96
cylinders = 3
double_acting = true
fluid_constant = 1.8
limit = { npsh = [["50 L/min", "2 m"], ["100 L/min", "2.6 m"], ["150 L/min", "3.4 m"]] }

[runs.suction]
from = "foot"
to = "throttle"
size = "NPS 3 schedule 40"

[runs.rise]
from = "throttle"
to = "joint"
via = [["0.5 m", "1.4 m"]]
size = "NPS 3 schedule 40"
bend = "two-weld mitre"

[runs."standby suction"]
from = "standby"
to = "shut"
size = "NPS 3 schedule 40"

[runs."standby lead"]
from = "shut"
to = "joint"
size = "NPS 3 schedule 40"

[runs.main]
from = "joint"
to = "reducer"
size = "NPS 3 schedule 40"

[runs.a]
from = "reducer"
to = "taper"
size = "NPS 2 schedule 40"

[runs.b]
from = "taper"
to = "bellows"
bore = "40 mm"

[runs.c]
from = "bellows"
to = "mixer"
bore = "40 mm"

[runs.d]
from = "mixer"
to = "cooler"
bore = "40 mm"

[runs.hose]
from = "cooler"
to = "plunger"
size = "hose -24"
roughness = "0.02 mm"

[alternatives."On the standby"]
note = "The other valve open, this one shut."
fittings.shut.state = "open"
fittings.throttle.state = "closed"          # takes the place of its opening
limits.free_air = 0.05

[alternatives."Sealed and topped up"]
without = [
    "reservoirs.tank.return_at", "reservoirs.tank.breather_drop", "limits.vapor_margin",
    "reservoirs.tank.baffle.bottom",
]
reservoirs.tank.sealed = true
reservoirs.tank.draw_down = "0.1 m^3"
pumps.plunger.cylinder_constant = 0.05
fittings.mixer.curve.density = "900 kg/m^3"
fittings.throttle.opening.cv = "40 gpm"
"""
