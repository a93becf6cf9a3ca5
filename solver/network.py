"""Layout -> graph and element table.

Everything the fluid passes through is one `Row`. A row carries the coefficients of the one drop expression
(see `losses.drop`) and where it is drawn, so that the calculation and the drawing share one key.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from solver.layout import Layout

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Row:
    """One element, oriented from `start` to `end` along the expected flow.

    `key` is "part/element" and unique: "riser/straight 1", "riser/bend 1", "strainer/screen",
    "strainer/entrance", "isolator/ball valve", "isolator>lead/bore change", "header/run 1".
    """

    key: str
    part: str  # the part a click on it selects
    element: str  # unique in its part
    kind: str  # one of KINDS
    start: str  # node
    end: str  # node
    z_in: float  # [m]
    z_out: float  # [m]
    bore: float  # [m]
    length: float = 0.0  # developed, with its share of out_of_plane [m]
    roughness: float = 0.0  # [m]
    k_inf: float = 0.0
    k_re: float = 0.0
    viscous: float = 0.0  # [1/m³]: drop = viscous · μ · Q
    inertial: float = 0.0  # [1/m⁴]: drop = inertial · ρ · Q²
    fixed: float = 0.0  # [Pa]
    cap: float = float("inf")  # bypass opening pressure [Pa]
    k_inf_back: float | None = None  # the same for flow from end to start, where it differs
    path: tuple[tuple[float, float], ...] = ()  # centre line as drawn, (x, y) [m]; one point for a part
    note: str = ""  # a reservation the user should read ("mitre of 30°: Darby's 45° row in proportion")
    source: str = ""  # where the coefficients come from


KINDS = (
    "entrance",
    "screen",
    "straight",
    "bend",
    "bore change",
    "valve",
    "device",
    "tee",
)


@dataclass(frozen=True, slots=True)
class Network:
    """The rows, as objects and as columns of the same order, and the graph they make.

    Nodes are "reservoir:tank", "pump:carriage" and inner ones; each edge carries `row`, an index into `rows`.
    """

    layout: Layout
    rows: tuple[Row, ...]
    columns: Mapping[str, Floats]  # the numeric fields of Row, by their names
    graph: nx.MultiDiGraph
    elevation: Mapping[str, float]  # of every node [m]
    index: Mapping[str, int]  # row key -> row number


class NetworkError(ValueError):
    """A drawing that holds no line to calculate. `problems` is ((part, what is wrong), ...)."""

    def __init__(self, problems: tuple[tuple[str, str], ...]) -> None:
        super().__init__("; ".join(f"{part}: {text}" for part, text in problems))
        self.problems = problems
