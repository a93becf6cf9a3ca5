"""Checks of a pump's limit against the family of its fluid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from solver.findings.criteria import TRADE, Hit, Subject
from solver.findings.kinds import Severity
from solver.ledger.maker_fluid import holds_for
from solver.properties.families import catalogue
from solver.quantities.units import Kind

COMMON = TRADE + ", unverified"

WHY = (
    "The density alone does not say how such a fluid fills a pump: it gives off vapour or air sooner, or "
    "hangs in the passages."
)
"""Why it matters, of a limit of another fluid."""


class MakersDemand(NamedTuple):
    """What pump makers commonly ask for with a class of fluids."""

    words: str
    more: bool  # than a limit for oil comes to once it is corrected for density


FLOODED = "a flooded inlet, or the pump maker's own figure"
OWN_FIGURE = "the pump maker's own figure"

DEMANDS: Mapping[str, MakersDemand] = {
    "HFA": MakersDemand(FLOODED, more=True),
    "HFB": MakersDemand(FLOODED, more=True),
    "HFC": MakersDemand(FLOODED, more=False),
    "HFDR": MakersDemand(OWN_FIGURE, more=False),
    "HFDU": MakersDemand(OWN_FIGURE, more=True),
    "HETG": MakersDemand(OWN_FIGURE, more=True),
}
"""By the class of ISO 6743-4 or ISO 15380. Common practice, no source, unverified."""


def class_of(fluid: str) -> str:
    """The class of a fluid of the catalogue; empty for petroleum oils, water, and fluids of one's own."""
    family = catalogue().get(fluid)
    return family.fluid_class if family is not None else ""


def fire_resistant(fluid: str) -> bool:
    """Whether a fluid of the catalogue is of one of the classes HFA, HFB, HFC and HFD."""
    return class_of(fluid).startswith("HF")


def limit_of_another_fluid(subject: Subject) -> Iterator[Hit]:
    """A limit for oil that is corrected for another family of fluids by its density alone."""
    name, pump = subject.layout.fluid.name, subject.pump
    usual = DEMANDS.get(class_of(name))
    if usual is None or holds_for(pump, name):
        return
    law = "a limit corrected by the density alone allows more" if usual.more else "the limit is an estimate"
    text = f"{pump.name}: with {name}, {usual.words} is commonly asked for; {law}"
    severity = Severity.CAUTION if usual.more else Severity.NOTE
    yield Hit(severity, pump.name, subject.port.key, None, None, Kind.DENSITY, text)
