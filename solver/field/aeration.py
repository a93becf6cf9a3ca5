"""The ways by which air may be drawn in, as causes, with what the drawing says for and against each.

A gauge hardly shows any of them: what speaks is the pressure at the joints, and what stands over the intake
and the return, in the state of the readings. Figures of the odds are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from solver.field.air import Air, Cover, Return, joint_text, seal_text
from solver.field.causes import Cause, CauseKind, unseen
from solver.field.signs import MUCH, SOME, TRIED, Sign
from solver.quantities.units import Kind, System, typeset

NO_JOINT = "no joint is below the atmosphere in that state: it would drip, and draw no air"
NO_SEAL = "the port is not below the atmosphere in that state: the seal would drip, and draw no air"


def air_causes(air: Air) -> tuple[Cause, ...]:
    """The ways by which air may come in, for one pump in the state that was solved."""
    cover, tank = _least(air), _highest(air)
    return (
        unseen(CauseKind.JOINT, "", "" if air.joints else NO_JOINT),
        unseen(CauseKind.SEAL, air.pump, "" if air.vacuum > 0.0 else NO_SEAL),
        *([unseen(CauseKind.VORTEX, cover.intake, "")] if cover is not None else []),
        *([unseen(CauseKind.RETURN, tank.reservoir, "")] if tank is not None else []),
    )


def drawn_signs(air: Air, system: System) -> tuple[Sign, ...]:
    """What the drawing itself says for and against each of them in that state, in the units of a system."""
    return (*_of_pressure(air, system), *_of_cover(_least(air), system), *_of_return(_highest(air), system))


def _least(air: Air) -> Cover | None:
    """The intake with the least fluid over it against what keeps a vortex away."""
    return min(air.covers, key=lambda each: _lowest(each) - each.needed, default=None)


def _lowest(cover: Cover) -> float:
    """The least depth of fluid over an intake, at this level or with the cylinders out [m]."""
    return cover.depth if cover.drawn_depth is None else min(cover.depth, cover.drawn_depth)


def _highest(air: Air) -> Return | None:
    """The return that ends highest against the fluid; one that is not drawn comes before those that are."""
    return min(air.returns, key=lambda each: -1e9 if each.depth is None else each.depth, default=None)


def _of_pressure(air: Air, system: System) -> Iterator[Sign]:
    """Joints and the seal, where they are below the atmosphere."""
    if air.joints:
        suspects = "; ".join(joint_text(joint, air, system) for joint in air.joints)
        yield Sign(
            f"suspects in that state, the lowest pressure first: {suspects}", ((CauseKind.JOINT, 1.0),)
        )
    seal = seal_text(air, system)
    if seal:
        yield Sign(seal, ((CauseKind.SEAL, 1.0),))


def _of_cover(cover: Cover | None, system: System) -> Iterator[Sign]:
    """What stands over the intake, at the level of the state and with the cylinders out."""
    if cover is None:
        return
    needed = typeset(cover.needed, Kind.LENGTH, system)
    if _lowest(cover) <= 0.0:
        when = "in that state" if cover.depth <= 0.0 else "with the cylinders out"
        yield Sign(f"{cover.intake} is bare {when}", ((CauseKind.VORTEX, TRIED),), trial=True)
        return
    depth = typeset(_lowest(cover), Kind.LENGTH, system)
    when = "at the least" if cover.drawn_depth is not None else "at that level"
    text = f"{depth} of fluid over {cover.intake} {when}, and {needed} keeps a vortex away"
    if _lowest(cover) < cover.needed:
        yield Sign(text, ((CauseKind.VORTEX, SOME if cover.screened else MUCH),))
    elif cover.drawn_depth is not None:
        yield Sign(text, ((CauseKind.VORTEX, 1 / MUCH),))
    else:
        text = f"{text}; what the cylinders take out is not in the drawing"
        yield Sign(text, ((CauseKind.VORTEX, 1 / SOME),))


def _of_return(tank: Return | None, system: System) -> Iterator[Sign]:
    """Where the return ends, at the level of the state and with the cylinders out."""
    if tank is None or tank.depth is None:
        return
    lowest = tank.depth if tank.drawn_depth is None else min(tank.depth, tank.drawn_depth)
    if lowest <= 0.0:
        when = "in that state" if tank.depth <= 0.0 else "with the cylinders out"
        yield Sign(
            f"the return ends in the air {when}, and carries air down",
            ((CauseKind.RETURN, MUCH if tank.depth <= 0.0 else SOME),),
        )
        return
    depth = typeset(lowest, Kind.LENGTH, system)
    when = "at the least" if tank.drawn_depth is not None else "at that level"
    yield Sign(f"the return ends {depth} under the fluid {when}", ((CauseKind.RETURN, 1 / MUCH),))
