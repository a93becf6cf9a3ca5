"""The wall of a run: how rough it is, and how that is known."""

from __future__ import annotations

from solver.layout.parts import Run
from solver.properties import sizes


def roughness(run: Run) -> float:
    """Roughness of a run's wall [m]: as typed, of its material, or of what its size is made of."""
    return run.roughness.si if run.roughness is not None else sizes.ROUGHNESS[material(run)]


def roughness_source(run: Run) -> str:
    """Where the roughness of a run's wall comes from."""
    if run.roughness is not None:
        return "as typed"
    assumed = "" if run.material else ", as no material is given"
    return f"{material(run)}{assumed}: {sizes.ROUGHNESS_SOURCE[material(run)]}"


def material(run: Run) -> str:
    """What a run whose roughness is not typed is made of: as drawn, or as its size commonly is."""
    return material_without_size(run) or "commercial steel"


def material_without_size(run: Run) -> str | None:
    """The material of a run once its size gives place to a bore: a hose stays one.

    None where the drawing names none, and its size means no other than a bore does.
    """
    hose = run.size is not None and sizes.family(run.size) == "hose"
    return run.material or ("rubber hose" if hose else None)
