"""Published values that are at hand and that the program does not compute, each with its reason.

They stand here so that a gap is a decision and not an oversight. What moves out of this list gets a test.
"""

from __future__ import annotations

NOT_COMPUTED: tuple[tuple[str, str, str], ...] = (
    ("Arasu, Turbomachines", "ch. 8, manometric head 19.19 m", "the program ends at the inlet port"),
    ("Khan, Fluid Mechanics", "Ex. 12.5, 4.8 m from Thoma's σ", "what a pump requires is its maker's word"),
    (
        "Schaschke, Fluid Mechanics",
        "9.8, 6.147 m from specific speed",
        "what a pump requires is its maker's word",
    ),
    ("Affinity laws", "suction specific speed 9841", "what a pump requires is its maker's word"),
    ("Crane TP-410", "Ex. 7-33, power 2.005 hp", "no pump's power is calculated"),
    ("Douglas, Fluid Mechanics", "Ex. 24.1, 8.38 m at mid-stroke", "friction is charged at the mean flow"),
    ("ASTM E11", "openings of sieves no. 60 to 200", "a screen is given by its mesh and wire"),
    ("Blevins (1984)", "screen K at Re 20 to 400", "frozen below Re 20, where oil runs"),
    ("Crane TP-410", "projecting entrance K 0.78", "Hooper's 1.0 is the stricter"),
    ("Crane TP-410", "rounded entrance K 0.09 at r/D 0.1", "a bell-mouth is one of r/D 0.15"),
    ("Classical texts", "narrowing K 0.375 at β 0.5", "Rennels's 0.496 is newer and stricter"),
    ("Hooper; Darby", "180° returns, tees as elbows", "a bend is drawn by its angle and radius"),
    ("Power-law profile", "momentum factor 4/3", "no balance of momentum is drawn up"),
    ("Entry length", "30 and 120 bores in laminar flow", "losses are those of developed flow"),
    ("ASTM D2161", "Saybolt seconds at 210 °F", "typed seconds are those at 100 °F"),
    ("SAE J517", "100R5 bores of -16 to -32", "no suction hose; a bore may be typed"),
    ("NIST SP 811", "inHg at 60 °F, inH₂O, ft of water", "refused as units: each has two definitions"),
    ("Common practice", "inlet vacuum by type of pump", "the maker's figure is typed, no default stands in"),
    ("Common practice", "inlet vacuum by family of fluid", "the maker's figure is corrected instead"),
    ("Common practice", "velocities of return and pressure lines", "suction lines only"),
    (
        "Common practice",
        "mesh, area and clean drop of strainers",
        "none is sized; a drawn one is checked",
    ),
    ("Common practice", "submergence of 2 to 3 bores", "ANSI/HI 9.8 is a source"),
    ("Common practice", "optimum viscosity 16 to 36 cSt", "the start and the least viscosity are checked"),
    (
        "ISO 3448",
        "grades under 15 and over 100",
        "any grade but the hydraulic ones is typed",
    ),
)
"""(source, value, why not), for the table at the end of a run."""
