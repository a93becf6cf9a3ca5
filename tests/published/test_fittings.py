"""Loss coefficients against Hooper, Darby, Crane and others, each test by its source.

Hooper (1981), Chem. Eng. 24 August, 96: constants from memory, equal to `fluids` 1.3.1 where that files them
under the right name. Darby (2001): constants as `fluids` 1.3.1 has them, equal to memory of the paper.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from fluids import fittings as library

from solver.formulas import flow
from solver.network import coefficients, losses
from solver.network.screens import flow_coefficient
from solver.network.tee_curves import TeeWay, tee_formula
from solver.network.tees import TeeTable
from solver.network.tees import coefficients as tee_coefficients
from solver.properties import sizes
from tests.published.comparing import Published

INCH = 0.0254


def _k(k: tuple[float, float], reynolds: float) -> float:
    return flow.fitting_coefficient(k[0], k[1], reynolds)


def _threaded_elbow(nps: float) -> tuple[float, float]:
    return coefficients.bend_k("threaded elbow", nps * INCH, math.pi / 2, nps * INCH, nps * INCH, 0.0)[:2]


@pytest.mark.parametrize(
    ("nps", "reynolds", "k"),
    [
        (1.5, 100, 8.6359),
        (1.5, 1000, 1.4359),
        (1.5, 1e5, 0.6439),
        (2, 100, 8.5949),
        (2, 1e6, 0.5957),
        (4, 1e6, 0.5103),
    ],
)
def test_darby_threaded_elbow(nps: float, reynolds: float, k: float, published: Published) -> None:
    """Darby 3-K, 90° threaded elbow, r/D 1 (800, 0.14, 4.0), evaluated outside: last digits."""
    case = f"threaded elbow, NPS {nps:g}, Re {reynolds:g}"
    published("Darby (2001)", case, k, _k(_threaded_elbow(nps), reynolds), rel=1e-4)


@pytest.mark.parametrize(
    ("bore", "reynolds", "k"),
    [
        (1.610, 100, 8.6484),
        (1.610, 500, 2.2484),
        (1.610, 1000, 1.4484),
        (1.610, 1e5, 0.6564),
        (2.067, 100, 8.5935),
        (2.067, 1e6, 0.5943),
        (4.026, 1e6, 0.5002),
    ],
)
def test_hooper_form(bore: float, reynolds: float, k: float, published: Published) -> None:
    """Hooper 2-K, standard screwed elbow (800, 0.40), evaluated outside: last digits."""
    coefficient = _k((flow.hooper(0.40, bore), 800.0), reynolds)
    published("Hooper (1981)", f"screwed elbow, {bore} in, Re {reynolds:g}", k, coefficient, rel=1e-4)


@pytest.mark.parametrize("nps", [1.5, 2.0, 4.0])
@pytest.mark.parametrize("reynolds", [100.0, 1000.0, 1e5])
def test_the_two_methods_agree(nps: float, reynolds: float) -> None:
    """2-K and 3-K agree within 2 % for a screwed elbow of NPS 1-1/2 to 4: computed outside."""
    bore = sizes.bore(f"NPS {nps:g} schedule 40")
    two = _k((flow.hooper(0.40, bore / INCH), 800.0), reynolds)
    assert _k(_threaded_elbow(nps), reynolds) == pytest.approx(two, rel=0.025)


DARBY = [
    ("gate valve", 300, 0.037, 3.9, "Valve, Gate valve, standard, β = 1"),
    ("ball valve", 300, 0.017, 3.5, "Valve, Ball valve, standard, β = 1"),
    ("plug valve", 300, 0.084, 3.9, "Valve, Plug valve, straight through"),
    ("angle valve", 1000, 0.69, 4.0, "Valve, Angle valve, 90°, full line size, β = 1"),
    ("globe valve", 1500, 1.70, 3.6, "Valve, Globe valve, standard, β = 1"),
    ("diaphragm valve", 1000, 0.69, 4.9, "Valve, Diaphragm, dam type"),
    ("swing check", 1500, 0.46, 4.0, "Valve, Swing check"),
    ("lift check", 2000, 2.85, 3.8, "Valve, Lift check"),
    ("Y-pattern valve", 950, 0.25, 4.0, "Valve, Angle valve, 45°, full line size, β = 1"),
    ("three-way valve, through", 300, 0.14, 4.0, "Valve, Plug valve, three-way (flow through)"),
    ("three-way valve, branch", 500, 0.41, 4.0, "Valve, Plug valve, branch flow"),
]


@pytest.mark.parametrize(("kind", "k1", "ki", "kd", "row"), DARBY)
@pytest.mark.parametrize("reynolds", [50.0, 700.0, 1e5])
def test_darby_valves(
    kind: str, k1: float, ki: float, kd: float, row: str, reynolds: float, published: Published
) -> None:
    """Darby's table: constants by hand, and the library's evaluation of its own copy. Exact."""
    k = _k(coefficients.fitting_k(kind, 2 * INCH, 2.067 * INCH)[:2], reynolds)
    by_hand = k1 / reynolds + ki * (1 + kd / 2**0.3)
    published("Darby (2001)", f"{kind}, NPS 2, Re {reynolds:g}", by_hand, k, rel=1e-12)
    assert k == pytest.approx(library.Darby3K(NPS=2.0, Re=reynolds, name=row), rel=1e-12)


HOOPER_1981 = {"butterfly valve": (800, 0.25), "tilting-disc check": (1000, 0.50)}


@pytest.mark.parametrize(
    ("kind", "row"),
    [("butterfly valve", "Valve, Butterfly,"), ("tilting-disc check", "Valve, Check, Tilting-disc")],
)
def test_hooper_valves(kind: str, row: str, published: Published) -> None:
    """Hooper's table: butterfly (800, 0.25), tilting-disc check (1000, 0.50). Exact."""
    k = _k(coefficients.fitting_k(kind, 2 * INCH, 2.067 * INCH)[:2], 700.0)
    theirs = float(library.Hooper2K(Di=2.067, Re=700.0, name=row))
    published("fluids, Hooper (1981)", f"{kind}, 2.067 in", theirs, k, rel=1e-12)
    k_re, k_inf = HOOPER_1981[kind]
    by_hand = k_re / 700.0 + k_inf * (1 + 1 / 2.067)
    published("Hooper (1981)", f"{kind}, 2.067 in, Re 700", by_hand, k, rel=1e-12)


@pytest.mark.parametrize(
    ("bend", "degrees", "row"),
    [
        ("threaded elbow", 90, "Elbow, 90°, threaded, standard, (r/D = 1)"),
        ("threaded elbow", 45, "Elbow, 45°, threaded standard, (r/D = 1)"),
        ("mitre", 90, "Elbow, 90°, mitered, 1 weld, (90°)"),
        ("mitre", 45, "Elbow, 45°, mitered, 1 weld, (45°)"),
    ],
)
def test_darby_elbows(bend: str, degrees: float, row: str) -> None:
    """Darby's rows at their own angles."""
    elbow = coefficients.bend_k(bend, 0.0508, math.radians(degrees), 0.0525, 0.0508, 0.0)
    assert _k(elbow[:2], 300.0) == pytest.approx(library.Darby3K(NPS=2.0, Re=300.0, name=row), rel=1e-9)


@pytest.mark.parametrize(
    ("kind", "k_inf"), [("wall nozzle", 0.5), ("strainer", 0.5), ("plain end", 1.0), ("bell-mouth", 0.04)]
)
def test_hooper_entrances(kind: str, k_inf: float, published: Published) -> None:
    """Hooper (1981): 160/Re with 0.50 flush, 1.00 inward; Crane TP-410: 0.04 rounded from r/D 0.15. Inside
    a strainer the pipe ends flush with its end plate."""
    ours, k_re = coefficients.entrance_k(kind)[:2]
    assert k_re == 160.0
    published("Crane TP-410" if kind == "bell-mouth" else "Hooper (1981)", kind, k_inf, ours, abs=0.0)


def test_rennels_bend(published: Published) -> None:
    """The library's own example of Rennels and Hudson (2012): 4.02 bore, r 20, 30°, Re 1e5: K 0.11519."""
    bend = coefficients.bend_k("bent", 20.0, math.radians(30), 4.020, 4.0, 0.0)
    published(
        "fluids, Rennels and Hudson (2012)",
        "30° bend, r/D 5",
        0.11519070808,
        bend.k_inf,
        rel=1e-9,
    )


@pytest.mark.parametrize("diameters", [2, 4, 6])
def test_smooth_bends_near_darbys(diameters: int) -> None:
    """Darby's 90° bends of r/D 2, 4 and 6 have the same 800/Re and turbulent K of 0.21 to 0.3 at NPS 2:
    Rennels, from newer data, lies within 30 % of them."""
    bend = coefficients.bend_k("bent", diameters * 0.0525, math.pi / 2, 0.0525, 0.0508, 0.0)
    darby = library.Darby3K(NPS=2.0, Re=1e12, name=f"Elbow, 90°, (r/D = {diameters})")
    assert bend.k_re == pytest.approx(800)
    assert bend.k_inf == pytest.approx(darby, rel=0.3)


def test_sudden_widening_by_borda_and_carnot(published: Published) -> None:
    """(1 − β²)² at β 0.5: 0.5625, any text."""
    k_inf = coefficients.bore_change_k(0.05, 0.1).k_inf
    published("Borda and Carnot", "widening, β 0.5", 0.5625, k_inf, abs=1e-3)


def test_sudden_narrowing(published: Published) -> None:
    """β 0.5: Rennels and Hudson 0.4956, above the classical 0.5 (1 − β²) = 0.375: the stricter of the two."""
    k_inf = coefficients.bore_change_k(0.1, 0.05).k_inf
    published("Rennels and Hudson (2012)", "narrowing, β 0.5", 0.4956, k_inf, abs=1e-3)


@pytest.mark.parametrize("angle", [180.0, 90.0, 30.0])
@pytest.mark.parametrize("beta", [0.3, 0.5, 0.8])
def test_laminar_narrowing_is_hoopers_term(beta: float, angle: float) -> None:
    """Hooper (1988): (1.2 + 160/Re₁)(1/β⁴ − 1) of the larger bore, by `fluids` at two Reynolds numbers."""
    d_in, d_out = 0.1, 0.1 * beta
    low, high = (
        library.contraction_conical(d_in, d_out, angle=angle, Re=re, method="Hooper") for re in (10.0, 1000.0)
    )
    k_re = (low - high) / (beta / 10.0 - beta / 1000.0)  # Re of the smaller bore is Re₁/β
    ours = coefficients.bore_change_k(d_in, d_out, math.radians(angle))
    assert ours.k_re == pytest.approx(k_re, rel=1e-9)
    at_high = low - k_re * beta / 10.0  # what stands beside the viscous term
    assert ours.k_slow == pytest.approx(max(at_high, ours.k_inf), rel=1e-9)
    assert angle < 90.0 or ours.k_slow > ours.k_inf


@pytest.mark.parametrize("angle", [180.0, 90.0, 30.0, 15.0])
@pytest.mark.parametrize("beta", [0.3, 0.5, 0.8])
def test_a_narrowing_is_no_kinder_than_hooper_s_laminar_equation_as_far_as_it_goes(
    beta: float, angle: float
) -> None:
    """Hooper (1988), by `fluids`: to Re 2500 in the larger bore, up to 2500/β in the smaller, where ours was
    up to 0.3 velocity pressures below. From there to Rennels's turbulent one without a step, and without more
    loss for less flow."""
    d_in, d_out = 0.1, 0.1 * beta
    change = coefficients.bore_change_k(d_in, d_out, math.radians(angle))
    names = ("k_inf", "k_re", "k_slow", "slow_end")
    columns = {name: np.array([getattr(change, name)]) for name in names}
    columns |= {name: np.zeros(1) for name in ("length", "roughness", "viscous", "inertial", "read_drop")}
    columns |= {"bore": np.array([d_out]), "cap": np.array([np.inf])}
    reynolds = np.geomspace(50.0, 30 * 2500 / beta, 2000)
    flow = reynolds * 46e-6 * np.pi * d_out / 4
    drops = losses.drop(columns, flow[None, :], 870.0, 46e-6)
    for at, k in zip(reynolds, drops.k[0], strict=True):
        if at * beta <= 2500:
            hooper = library.contraction_conical(d_in, d_out, angle=angle, Re=at * beta, method="Hooper")
            assert k >= hooper * (1 - 1e-9)
    turbulent = change.k_inf + change.k_re / reynolds
    assert (drops.k[0] >= turbulent * (1 - 1e-12)).all()
    assert drops.k[0, -1] == pytest.approx(turbulent[-1], rel=1e-12)
    assert (np.diff(drops.k[0]) <= 0).all()
    assert (np.diff(drops.loss[0]) > 0).all()
    difference = np.diff(drops.loss[0]) / np.diff(flow)
    between = (drops.slope[0, 1:] + drops.slope[0, :-1]) / 2
    assert (np.abs(difference / between - 1) > 0.01).sum() <= 3  # its two corners


@pytest.mark.parametrize("angle", [180.0, 90.0, 60.0, 30.0, 15.0])
@pytest.mark.parametrize("beta", [0.2, 0.4, 0.6, 0.8, 0.95])
def test_a_narrowing_is_no_kinder_than_hooper_s_turbulent_equation(beta: float, angle: float) -> None:
    """Hooper (1988), (0.6 + 0.48 f)(1/β² − 1)/β² of the larger bore from Re 2500 in it, by `fluids`.
    Ours was Rennels's alone, up to 0.27 velocity pressures below, in a cone of 90° and β 0.2."""
    d_in, d_out = 0.1, 0.1 * beta
    change = coefficients.bore_change_k(d_in, d_out, math.radians(angle))
    for reynolds in (2501.0, 4000.0, 2e4, 1e6):
        hooper = library.contraction_conical(d_in, d_out, angle=angle, Re=reynolds, method="Hooper")
        rennels = library.contraction_conical(d_in, d_out, angle=angle, Re=1e5, fd=0.018, method="Rennels")
        assert change.k_inf >= hooper * (1 - 1e-9)
        assert change.k_inf <= max(hooper + 0.02, rennels + 1e-3)


def test_crane_7_35_converging_tee(published: Published) -> None:
    """Crane TP-410, Example 7-35: DN 100 schedule 40, 1135 L/min straight, 380 from the branch: branch
    -0.04026 of the combined velocity, as `fluids` quotes the book. It quotes 0.03258 for the run, a slip of
    the decimal point: the book's own formula, 1.55 · 0.2508 − 0.2508², is 0.3258."""
    share = 380 / 1515
    branch, run = (tee_formula(leg, diverging=False, branch_share=share)(share) for leg in ("branch", "run"))
    published("Crane TP-410", "Ex. 7-35 branch", -0.04026, branch, rel=1e-2)
    published("Crane TP-410", "Ex. 7-35 run", 0.3258, run, rel=1e-2)


@pytest.mark.parametrize("splits", [True, False])
@pytest.mark.parametrize("leg", ["run", "branch"])
def test_tees_by_the_library(leg: str, splits: bool) -> None:
    """Crane TP-410 (2009) as `fluids` has it, of one bore at right angles, over all splits."""
    crane = getattr(library, f"K_{leg}_{'diverging' if splits else 'converging'}_Crane")
    for percent in range(101):
        share = percent / 100
        ours = tee_formula(leg, diverging=splits, branch_share=share)(share)
        assert ours == pytest.approx(crane(0.1, 0.1, 1.0 - share, share, angle=90), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(("share", "k"), [(0.0, 1.8), (0.3, 0.8631), (0.5, 0.6875), (0.8, 0.836), (1.0, 1.1)])
def test_ends_of_a_run_that_meet_by_idelchik(share: float, k: float, published: Published) -> None:
    """Idelchik, diagram 7-29: A (1 + 1 + 3 (s² − s)) of equal bores, A by table 7-4: 0.9 (1 − s) to 0.4, then
    0.55; worked out by hand, the formula from memory and equal to an open library's that quotes the page. A
    momentum balance along the branch, 1 + s² with no pressure on its far wall but the ends' own, is above it
    from a third to two thirds, and a tee used as an elbow (Hooper, Darby) about where it ends."""
    ours = tee_formula(TeeWay.END, diverging=False, branch_share=share)(share)
    published("Idelchik", f"diagram 7-29 at {share}", k, ours, rel=1e-3)
    assert ours <= 1 + share**2 or not 1 / 3 <= share <= 2 / 3


@pytest.mark.parametrize("reynolds", [100.0, 1000.0, 1e5])
def test_a_tee_that_all_the_flow_turns_in_takes_what_the_tables_give_an_elbow_of_it(reynolds: float) -> None:
    """A tee used as an elbow, its third leg shut. Hooper (1981), flanged: 800/Re + 0.8 (1 + 1/D), as `fluids`
    has the row; Darby (2001): 800/Re + 0.28 (1 + 4/D^0.3); Crane TP-410 by its flow split is above both."""
    nps = 2.067
    legs = TeeTable(
        np.array([[-1, 0, 1]]),
        np.array([[1.0, -1.0, -1.0]]),
        np.array([[False, False, True]]),
        np.full((1, 3), nps * INCH),
    )
    k_inf, k_re = tee_coefficients(legs, np.array([0.0, 0.002]), 1e-6)
    ours = _k((k_inf[0, 2], k_re[0, 2]), reynolds)
    hooper = 800 / reynolds + 0.8 * (1 + 1 / nps)
    darby = 800 / reynolds + 0.28 * (1 + 4 / 2**0.3)
    assert max(hooper, darby) <= ours <= max(hooper, darby) + 0.6


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9])
@pytest.mark.parametrize("whole", [100.0, 300.0, 1000.0])
def test_the_branch_of_a_laminar_split_lies_between_darby_and_idelchik(share: float, whole: float) -> None:
    """Fall of static pressure from header to branch, in velocity pressures of the header. Not less than by
    Darby's row as books use it, without velocity heads, but for 0.3 of one; nor, from Re 1000, than by
    Idelchik's laminar curve, diagram 7-18 (3rd edition; from memory, equal to a public program's that quotes
    the pages); not more than by that with Darby's laminar term, which at very low Reynolds numbers is larger
    than his 150/Re."""
    legs = TeeTable(
        np.array([[-1, 0, 1]]),
        np.array([[1.0, -1.0, -1.0]]),
        np.array([[False, False, True]]),
        np.full((1, 3), 2.067 * INCH),
    )
    flows = 0.002 * np.array([1.0 - share, share])
    viscosity = 4 * 0.002 / (math.pi * 2.067 * INCH * whole)
    k_inf, k_re = tee_coefficients(legs, flows, viscosity)
    slow = k_re[0, 2] * share / whole
    fall = k_inf[0, 2] * share**2 + slow - 2 * (1 - share**2)
    darby = (800 / (share * whole) + 0.28 * (1 + 4 / 2**0.3)) * share**2
    k_1 = 0.9 + share if share <= 0.6 else 1.5 - (share - 0.6) / 2
    idelchik = (k_1 + 1) * (1 + share**2) + 150 / whole - 2 * (1 - share**2)
    assert darby - 0.3 <= fall <= idelchik + slow
    assert whole < 1000 or fall >= idelchik - 1e-9


@pytest.mark.parametrize("nps", ["1/2", "1", "2", "4"])
def test_flow_past_a_dead_leg_takes_what_tables_give_the_run_of_a_tee(nps: str, published: Published) -> None:
    """Tee, run-through, at its own velocity: Crane TP-410 20 f_T (read in Ludwig, Applied Process Design,
    volume 1, 3rd edition, page 76); Darby's constants as `fluids` has them, flanged 0.05 (1 + 4/D^0.3) and
    threaded 0.091 (1 + 4/D^0.3), near which Crane's lies. His flow-split curve has nothing."""
    size = sizes.find(f"NPS {nps} schedule 40")
    legs = TeeTable(
        np.array([[-1, 0, 1]]),
        np.array([[1.0, -1.0, -1.0]]),
        np.array([[False, False, True]]),
        np.full((1, 3), size.bore),
    )
    k_inf, k_re = tee_coefficients(legs, np.array([0.002, 0.0]), 1e-8)
    factor = 0.25 / math.log10(0.0018 * INCH / size.bore / 3.7) ** 2
    published("Crane TP-410", f"tee, flow through run, NPS {nps}", 20 * factor, float(k_inf[0, 1]), rel=1e-6)
    assert factor >= library.ft_Crane(size.bore)  # its fit to the printed table, up to 1.4 % kinder
    inches = size.nominal / INCH
    for name, least, most in (("flanged", 1.5, 2.3), ("threaded", 0.85, 1.15)):
        k1, ki, kd = library.Darby[f"Tee, Run-through, {name}, (r/D = 1)"]
        assert least <= k_inf[0, 1] / (ki * (1 + kd / inches**0.3)) <= most
        assert k_re[0, 1] >= k1


def test_iec_60534_example_1(published: Published) -> None:
    """IEC 60534-2-1, its first example (inputs and result in a library's documentation): 360 m³/h of water of
    965.4 kg/m³ from 680 to 220 kPa asks for a Kv of 165. 0.1 %: its constants."""
    drop = flow_coefficient(kv=164.998 / 3600) * 965.4 * 0.1**2 / 1e3
    published("IEC 60534-2-1", "Ex. 1 pressure drop", 460, drop, "kPa", rel=1e-3)


def test_crane_7_2_valve_by_its_kv(published: Published) -> None:
    """Crane TP-410M, Example 7-2 (public repository): a 150 mm valve of Kv 500 has K 3.6, as much as 240
    bores or 37.0 m of pipe at f 0.015. 0.3 %: last digits."""
    inertial = flow_coefficient(kv=500 / 3600)
    k = inertial * math.pi**2 * 0.154**4 / 8
    published("Crane TP-410", "Ex. 7-2 K", 3.6, k, rel=3e-3)
    published("Crane TP-410", "Ex. 7-2 L/D", 240, k / 0.015, rel=3e-3)
    published("Crane TP-410", "Ex. 7-2 length", 37.0, k / 0.015 * 0.154, "m", rel=3e-3)


@pytest.mark.parametrize(
    ("nps", "factor"),
    [
        ("1/2", 0.02590),
        ("1", 0.02249),
        ("1-1/2", 0.02018),
        ("2", 0.01899),
        ("3", 0.01731),
        ("4", 0.01629),
        ("6", 0.01490),
    ],
)
def test_friction_factor_of_a_foot_valve(nps: str, factor: float, published: Published) -> None:
    """Crane TP-410, 2009 and later: f_T = 0.25/log₁₀(ε/D/3.7)² with ε 0.0018 in, computed outside for
    schedule 40; a hinged foot valve is 75 f_T. Half of the last digit."""
    bore = sizes.bore(f"NPS {nps} schedule 40")
    ours = coefficients.fitting_k("foot valve", bore, bore).k_inf / 75
    published("Crane TP-410", f"f_T, NPS {nps}", factor, ours, abs=0.000005)


def test_poppet_foot_valve_by_crane(published: Published) -> None:
    """Crane TP-410: poppet disc 420 f_T, with f_T 0.0190 at NPS 2 (2009 edition): last digits."""
    k = coefficients.fitting_k("poppet foot valve", 2 * INCH, 2.067 * INCH)
    published("Crane TP-410", "poppet foot valve, NPS 2", 420 * 0.0190, k.k_inf, rel=1e-3)


@pytest.mark.parametrize(
    ("kind", "k1", "k_inf"), [("reduced ball valve", 500, 0.15), ("reduced plug valve", 1000, 0.25)]
)
def test_hooper_reduced_valves(kind: str, k1: float, k_inf: float, published: Published) -> None:
    """Hooper's valves of reduced trim, β 0.9 (500, 0.15) and β 0.8 (1000, 0.25), from memory. Exact."""
    k = _k(coefficients.fitting_k(kind, 2 * INCH, 2.067 * INCH)[:2], 700.0)
    by_hand = k1 / 700 + k_inf * (1 + 1 / 2.067)
    published("Hooper (1981)", f"{kind}, 2.067 in, Re 700", by_hand, k, rel=1e-12)


@pytest.mark.parametrize(
    ("row", "k1", "ki", "kd"),
    [
        ("threaded long elbow 90", 800, 0.071, 4.2),
        ("threaded elbow 45", 500, 0.071, 4.2),
        ("threaded elbow 90", 800, 0.14, 4.0),
    ],
)
def test_darby_elbow_constants(row: str, k1: float, ki: float, kd: float, published: Published) -> None:
    """Darby's constants, agreeing with memory of the paper. Exact."""
    k = _k(coefficients.darby_k(row, 1.5 * INCH)[:2], 300.0)
    by_hand = k1 / 300 + ki * (1 + kd / 1.5**0.3)
    published("Darby (2001)", f"{row}, NPS 1-1/2, Re 300", by_hand, k, rel=1e-12)


def test_foot_valve_by_crane(published: Published) -> None:
    """Crane TP-410: hinged disc 75 f_T, with f_T 0.0190 at NPS 2 (2009 edition)."""
    k = coefficients.fitting_k("foot valve", 2 * INCH, 2.067 * INCH)
    published("Crane TP-410", "foot valve, NPS 2", 75 * 0.0190, k.k_inf, rel=1e-3)


def test_a_turbulent_coefficient_alone_is_wrong_in_oil() -> None:
    """Crane's 30 f_T is 0.60 at NPS 1-1/2: 14 times too small at Re 100."""
    assert _k(_threaded_elbow(1.5), 100.0) / 0.60 == pytest.approx(14, abs=0.5)


@pytest.mark.parametrize(("beta", "hooper"), [(0.2, 1.9968), (0.5, 1.875), (0.606, 1.7303), (0.8, 1.1808)])
@pytest.mark.parametrize("reynolds", [50.0, 1161.0, 2000.0])
def test_widenings_in_slow_flow(beta: float, hooper: float, reynolds: float, published: Published) -> None:
    """Hooper, W. B. (1988), Chem. Eng. November, 89: a sudden widening has K = 2 (1 - β⁴) below Re 4000."""
    change = coefficients.bore_change_k(0.05 * beta, 0.05)
    columns = {
        name: np.array([value])
        for name, value in {"bore": 0.05 * beta, "length": 0.0, "roughness": 0.0, "cap": np.inf}.items()
    }
    columns |= {name: np.zeros(1) for name in ("viscous", "inertial", "read_drop")}
    columns |= {name: np.array([getattr(change, name)]) for name in ("k_inf", "k_re", "k_slow")}
    flow = reynolds * 46e-6 * np.pi * 0.05 * beta / 4
    k = losses.drop(columns, np.array([flow]), 870.0, 46e-6).k[0]
    published("Hooper (1988)", f"widening, β {beta}, Re {reynolds:g}", hooper, k, rel=1e-4)
    theirs = library.diffuser_sharp(0.05 * beta, 0.05, Re=reynolds, fd=64 / reynolds, method="Hooper")
    assert k == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("wall", "share"), [("commercial steel", 0.13), ("cast iron", 0.34), ("rusted steel", 0.64)]
)
def test_a_bend_is_as_rough_as_its_run(wall: str, share: float) -> None:
    """Rennels and Hudson (2012) as the library fluids has it, with a wall of its own; a smooth wall would be
    too kind by a seventh in steel, a third in cast iron and two thirds in rusted steel."""
    bore, rough = 0.0525, sizes.ROUGHNESS[wall]
    k_inf = coefficients.bend_k("bent", 0.0762, math.pi / 2, bore, 0.0508, rough).k_inf
    theirs = library.bend_rounded(Di=bore, angle=90.0, rc=0.0762, Re=1e5, roughness=rough, method="Rennels")
    smooth = coefficients.bend_k("bent", 0.0762, math.pi / 2, bore, 0.0508, 0.0).k_inf
    assert k_inf == pytest.approx(theirs, rel=1e-6)
    assert 1 - smooth / k_inf == pytest.approx(share, abs=0.01)
