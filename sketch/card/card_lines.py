"""What the part card shows of each kind of part: which figures, under which names. No Qt here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from solver.layout.kinds import Bend, FittingKind, IntakeKind, PumpType, ValveState
from solver.layout.parts import CYLINDERS
from solver.properties import cloth, families, sizes
from solver.quantities.units import Kind, System

WHOLE = ""
"""The card of no part: what holds for the drawing as a whole."""

FLUID_NAME = "fluid.name"


class CardLine(NamedTuple):
    """One figure. `key` is its way into the part's table, as the file has it: "screen.mesh".

    With `options` it is picked, or typed as well where it is `open`; with a `kind` it is a quantity, or a
    table of quantities; a `flag` is yes or no; with none of these it is a bare number or words.
    """

    key: str
    label: str
    kind: Kind | None = None
    options: tuple[str, ...] = ()
    open: bool = False
    flag: bool = False
    words: bool = False
    empty: str = ""  # what holds while nothing is typed
    tip: str = ""
    opens_at: str = ""  # the option that its list opens at, where another than the one held

    @property
    def path(self) -> tuple[str, ...]:
        """The keys of the part's table that lead to the figure."""
        return tuple(self.key.split("."))


TABLE = "a single figure, or a table such as 1200 rpm: 7 inHg; 1800 rpm: 5 inHg"
OWN_PART = (
    "The part of a catalogue of yours that its figures were copied from; the card says when they differ"
)
SIZE = (
    CardLine("size", "Size", options=sizes.names(), open=True, tip="A standard size, which says the bore"),
    CardLine("bore", "Bore", Kind.BORE, empty="from the size", tip="The inside diameter, in place of a size"),
)
PLACE = (
    CardLine("at.x", "Position x", Kind.LENGTH, tip="To the right of the datum; the line stretches with it"),
    CardLine("at.y", "Elevation", Kind.LENGTH, tip="Above the datum; the line stretches with it"),
)
SCREEN = (
    CardLine(
        "screen.mesh",
        "Mesh",
        Kind.WIRES,
        options=tuple(f"{count} per inch" for count in cloth.MARKET_GRADE),
        open=True,
        tip="Wires to a length, such as 100 per inch",
    ),
    CardLine("screen.wire", "Wire", Kind.BORE, tip="Diameter of the wire"),
    CardLine("screen.area", "Screen area", Kind.AREA, tip="Of the whole screen, folds laid flat"),
    CardLine("screen.blocked", "Blocked share", empty="0", tip="Of the screen's area: 0.2 or 20 %, below 1"),
    CardLine("screen.bypass", "Bypass opens at", Kind.VACUUM, empty="no bypass"),
    CardLine(
        "screen.bypass_drop",
        "Bypass drop",
        Kind.VACUUM,
        empty="half as much again as it opens at",
        tip='The maker\'s drop with the whole flow over the open bypass; without it a sum is "at least"',
    ),
    CardLine("screen.bypass_flow", "Bypass flow", Kind.FLOW, empty="–"),
    CardLine("screen.bypass_viscosity", "Bypass viscosity", Kind.VISCOSITY, empty="–"),
    CardLine(
        "screen.drops",
        "Maker's points",
        Kind.FLOW,
        empty="–",
        tip="Flow: drop; flow: drop; …, in place of the mesh; the entrance is charged besides, "
        "so that a figure that holds it counts it twice",
    ),
    CardLine(
        "screen.viscosity",
        "Maker's viscosity",
        Kind.VISCOSITY,
        empty="–",
        tip="Of the fluid that the maker measured with",
    ),
    CardLine(
        "screen.density",
        "Maker's density",
        Kind.DENSITY,
        empty="–",
        tip="Of the fluid that the maker measured with",
    ),
    CardLine(
        "screen.assumed",
        "Screen is assumed",
        flag=True,
        tip="No maker has stated its figures; the maker's points take the mark off, and so does whoever "
        "confirms it",
    ),
    CardLine("screen.own_part", "Own screen", words=True, empty="none", tip=OWN_PART),
)

NOT_STATED = "not stated"
FROM_THE_CATALOGUE = "from the catalogue"
"""Of a figure of a fluid that is not typed."""

LINES: Mapping[str, tuple[CardLine, ...]] = {
    "pumps": (
        CardLine("type", "Type", options=tuple(PumpType)),
        *SIZE,
        CardLine("limit.vacuum", "Vacuum limit", Kind.VACUUM, empty="–",
             tip=f"The maker's figure at sea level: {TABLE}"),
        CardLine("limit.pressure", "Absolute pressure limit", Kind.ABSOLUTE, empty="–",
             tip="The maker's figure at the port, absolute, in place of a vacuum: 0.8 bar, 0.8 bar abs, "
                 "24 inHg, or over speed, 1200 rpm: 0.7 bar; 1800 rpm: 0.8 bar"),
        CardLine("limit.npsh", "NPSH required", Kind.HEAD, empty="–",
             tip="The maker's figure, in place of a vacuum; over speed or flow if it is a table"),
        CardLine("limit_assumed", "Limit is assumed", flag=True,
             tip="No maker has stated it; typing it takes the mark off, and so does whoever confirms it"),
        CardLine("displacement", "Displacement", Kind.DISPLACEMENT, empty="–"),
        CardLine("speed", "Speed", Kind.SPEED, empty="–"),
        CardLine("flow", "Flow", Kind.FLOW, empty="by displacement",
             tip="At the pump's speed: it makes the displacement; fixed only where none is typed"),
        CardLine("volumetric_efficiency", "Volumetric efficiency", empty="1",
             tip="Share of displacement × speed that the pump takes in; what it delivers is less"),
        CardLine("rated_speed", "Rated speed", Kind.SPEED, empty="–",
             tip="At which the maker's figure holds"),
        CardLine("rated_density", "Rated density", Kind.DENSITY, empty=NOT_STATED,
             tip="Of the fluid for which the maker's figure holds"),
        CardLine("rated_fluid", "Rated with", options=tuple(families.catalogue()), open=True,
             empty=NOT_STATED,
             tip="The fluid for which the maker's figure holds; of another fluid it is an estimate"),
        CardLine("start_viscosity", "Start viscosity", Kind.VISCOSITY, empty="from its type",
             tip="The most with which the maker lets the pump be started"),
        CardLine("credit", "Eased limit", flag=True,
             tip="Whether a speed or a density below that of the maker's figure eases the limit; no maker "
                 "has promised it"),
        CardLine("cylinders", "Cylinders", options=tuple(map(str, CYLINDERS))),
        CardLine("double_acting", "Double-acting", flag=True),
        CardLine("cylinder_constant", "Cylinder constant C", empty="from the cylinders"),
        CardLine("fluid_constant", "Fluid constant K", empty="from the fluid"),
        CardLine("case_volume", "Case holds", Kind.VOLUME, empty="not known",
             tip="Fluid to fill the pump with"),
        CardLine("dry_lift", "Primes up to", Kind.LENGTH, empty="not known",
             tip="The maker's figure: how high it primes an empty line at sea level"),
        CardLine("priming_speed", "Priming speed", Kind.SPEED, empty="not known",
             tip="The maker's figure: the least at which it primes"),
        CardLine("priming_time", "Priming time", Kind.TIME, empty="not known",
             tip="The maker's figure: the longest it may turn without fluid"),
        CardLine("at_rest", "At rest", flag=True, tip="The pump takes nothing in"),
        CardLine("flow_rise", "Flow rises in", Kind.TIME, empty="at full flow",
             tip="Full flow over the steepest rise of the flow"),
        CardLine("own_part", "Own pump", words=True, empty="none", tip=OWN_PART),
        *PLACE,
    ),
    "runs": (
        *SIZE,
        CardLine("material", "Material", options=tuple(sizes.ROUGHNESS), empty="from the size"),
        CardLine("roughness", "Roughness", Kind.BORE, empty="from the material"),
        CardLine("bend", "Bends", options=tuple(Bend), empty=Bend.LONG_RADIUS),
        CardLine("bend_radius", "Bend radius", Kind.LENGTH, empty="from the bends",
             tip="Of the centre line, in place of a kind of bend"),
        CardLine("out_of_plane", "Length not drawn", Kind.LENGTH, empty="none",
             tip="What runs towards you or away from you, out of the plane of the drawing: counted, without "
                 "elbows"),
        CardLine("own_part", "Own hose", words=True, empty="none", tip=OWN_PART),
    ),
    "intakes": (
        CardLine("kind", "Kind", options=tuple(IntakeKind),
             tip="Of a bell-mouth the bore is its throat; submergence is worked out with that bore, and "
                 "with a mouth of 1.5 throats where that asks for more"),
        *SIZE,
        *SCREEN,
        *PLACE,
    ),
    "fittings": (
        CardLine("kind", "Kind", options=tuple(FittingKind)),
        *SIZE,
        CardLine("state", "State", options=tuple(ValveState), empty=ValveState.OPEN),
        CardLine("opening.kv", "Part-open, Kv", Kind.FLOW_COEFFICIENT_KV, empty="–",
             tip="Flow coefficient as the valve stands"),
        CardLine("opening.cv", "Part-open, Cv", Kind.FLOW_COEFFICIENT_CV, empty="–"),
        CardLine("other_size", "Other size", options=sizes.names(), open=True),
        CardLine("other_bore", "Other bore", Kind.BORE, empty="from the other size"),
        CardLine("length", "Length", Kind.LENGTH, empty="–"),
        CardLine("k", "K", tip="Velocity heads lost in it, in turbulent flow"),
        CardLine("k_re", "Added in slow flow", empty="not known",
             tip="Divided by the Reynolds number, added to the K; until typed the loss is \"at least\""),
        CardLine("kv", "Kv", Kind.FLOW_COEFFICIENT_KV, empty="–"),
        CardLine("cv", "Cv", Kind.FLOW_COEFFICIENT_CV, empty="–"),
        CardLine("drop", "Pressure drop", Kind.VACUUM, empty="from the head"),
        CardLine("head", "Or head lost", Kind.HEAD, empty="from the drop", tip="Of the fluid that flows"),
        CardLine("flow", "At a flow of", Kind.FLOW, empty="any flow"),
        CardLine("viscosity", "Read at", Kind.VISCOSITY, empty="30 mm²/s",
             tip="With a thicker fluid it takes more, in proportion; with a thinner one no less"),
        CardLine("density", "Read with", Kind.DENSITY, empty="870 kg/m³"),
        CardLine("curve.drops", "Maker's points", Kind.FLOW, empty="–", tip="Flow: drop; flow: drop; …"),
        CardLine("curve.viscosity", "Maker's viscosity", Kind.VISCOSITY, empty="–"),
        CardLine("curve.density", "Maker's density", Kind.DENSITY, empty="–"),
        CardLine("own_part", "Own fitting", words=True, empty="none", tip=OWN_PART),
        *SCREEN,
        *PLACE,
    ),
    "tees": (*SIZE, *PLACE),
    "reservoirs": (
        CardLine("normal_level", "Normal level", Kind.ELEVATION),
        CardLine("minimum_level", "Minimum level", Kind.ELEVATION),
        CardLine("side.width", "Width", Kind.LENGTH, tip="Its right wall moves"),
        CardLine("side.height", "Height", Kind.LENGTH, tip="Its rim moves"),
        CardLine("depth", "Depth into the page", Kind.LENGTH, tip="The size that the drawing does not show"),
        CardLine("side.left", "Left wall at x", Kind.LENGTH, tip="What stands in it moves with it"),
        CardLine("side.floor", "Floor", Kind.LENGTH, tip="Elevation; what stands in it moves with it"),
        CardLine("draw_down", "Drawn out by cylinders", Kind.VOLUME, empty="not known",
             tip="From the normal level; 0 where they draw none"),
        CardLine("sealed", "Sealed", flag=True, tip="The gas above the fluid is shut in"),
        CardLine("pressure", "Pressure above the fluid", Kind.PRESSURE, empty="none", tip="Gauge"),
        CardLine("breather_drop", "Drop of the breather", Kind.VACUUM, empty="none"),
        CardLine("baffle.x", "Baffle at x", Kind.LENGTH, empty="no baffle"),
        CardLine("baffle.top", "Top of the baffle", Kind.LENGTH, empty="–"),
        CardLine("baffle.bottom", "Foot of the baffle", Kind.LENGTH, empty="on the floor"),
        CardLine("return.x", "Return ends at x", Kind.LENGTH, empty="no return line"),
        CardLine("return.y", "Return ends at height", Kind.LENGTH, empty="–", tip="Elevation"),
    ),
    WHOLE: (
        CardLine("title", "Title", words=True),
        CardLine("site.elevation", "Site elevation", Kind.ELEVATION, empty="–"),
        CardLine("site.barometer", "Barometer", Kind.ABSOLUTE, empty="from the elevation",
             tip="The station pressure, not reduced to sea level; with the elevation the two are "
                 "compared"),
        CardLine("site.altimeter_setting", "Altimeter setting", Kind.ABSOLUTE, empty="–",
             tip="Of an airport's report, with the elevation; a pressure reduced to sea level with the day's "
                 "temperature cannot be turned back"),
        CardLine("site.weather_allowance", "Weather allowance", Kind.VACUUM, empty="none",
             tip="Taken off for a day of low pressure"),
        CardLine(FLUID_NAME, "Fluid", options=tuple(families.catalogue()), open=True),
        CardLine("fluid.temperature", "Fluid temperature", Kind.TEMPERATURE),
        CardLine("fluid.coldest_start", "Coldest start", Kind.TEMPERATURE, empty="not checked"),
        CardLine("fluid.line_temperature", "Temperature in the line", Kind.TEMPERATURE,
             empty="as in the tank",
             tip="Of the fluid that stands in the line before it has run; nothing where it is as the tank's"),
        CardLine("fluid.viscosity", "Viscosity", Kind.VISCOSITY, empty=FROM_THE_CATALOGUE,
             tip="A single figure, or over temperature: 40 °C: 46 cSt; 100 °C: 6.8 cSt"),
        CardLine("fluid.viscosity_index", "Viscosity index", empty=FROM_THE_CATALOGUE),
        CardLine("fluid.density", "Density", Kind.DENSITY, empty=FROM_THE_CATALOGUE),
        CardLine("fluid.vapor_pressure", "Vapour pressure", Kind.ABSOLUTE, empty=FROM_THE_CATALOGUE,
             tip="Absolute, at the hottest the fluid gets; of a fluid of your own it is asked for: an NPSH "
                 "limit cannot be used without it, and nothing is judged for boiling"),
        CardLine("fluid.pour_point", "Pour point", Kind.TEMPERATURE, empty="not known",
             tip="Below it nothing is calculated"),
        CardLine("fluid.dissolved_air", "Dissolved air", empty=FROM_THE_CATALOGUE,
             tip="Volume of air, at atmospheric pressure and 0 °C, in a volume of fluid (Bunsen)"),
        CardLine("units", "Units of results", options=tuple(System), empty=System.US),
        CardLine("built", "Built as drawn on", empty="not noted", words=True,
             tip="A date such as 2026-03-04: readings from before it are of another line, and the card for "
                 "the machine has it"),
    ),
}  # fmt: skip
"""By the group of the layout that a part stands in, in the order in which they are shown."""
