"""Where an alternative counts on another pump, or on a figure that the maker has yet to agree to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from solver.layout.kinds import LimitForm
from solver.layout.parts import Case, Layout, Limit, Pump
from solver.quantities.units import Kind, Quantity, System, typeset

BUILT = ("type", "size", "bore", "displacement", "cylinders", "double_acting", "own_part")
"""What a pump is built with: where one of these is other, it is another pump."""

STATED = (
    "limit", "rated_speed", "rated_density", "rated_fluid", "start_viscosity", "credit",
    "volumetric_efficiency", "cylinder_constant", "dry_lift", "priming_speed", "priming_time",
)  # fmt: skip
"""What a maker states of a pump, so that another figure takes another pump or the maker's word."""

KINDS = {
    "bore": Kind.BORE, "displacement": Kind.DISPLACEMENT, "rated_speed": Kind.SPEED,
    "rated_density": Kind.DENSITY, "start_viscosity": Kind.VISCOSITY, "dry_lift": Kind.LENGTH,
    "priming_speed": Kind.SPEED, "priming_time": Kind.TIME,
}  # fmt: skip

CALLED = {"rated_fluid": "fluid of its limit", "credit": "credit for speed or density"}

FORMS = {
    LimitForm.VACUUM: (Kind.VACUUM, "of vacuum"),
    LimitForm.PRESSURE: (Kind.VACUUM, "absolute"),
    LimitForm.NPSH: (Kind.HEAD, "of NPSH"),
}


@dataclass(frozen=True, slots=True)
class OtherPump:
    """A pump that is another one in an alternative, or has figures that its maker must agree to."""

    name: str
    bought: bool  # certainly another one: consent does not change what a pump is built with
    what: str  # is other, in words: "limit 33.9 kPa of vacuum in place of 16.9 kPa of vacuum"

    @property
    def needs(self) -> str:
        """What it takes, as a part of a sentence."""
        consent = "" if self.bought else ", or its maker's written consent"
        return f"another pump for {self.name}{consent}"

    @property
    def order(self) -> str:
        """What to do about it, an order."""
        if self.bought:
            return f"Buy another pump for {self.name}: {self.what}."
        return f"Buy another pump for {self.name}, or get its maker's written consent: {self.what}."


def other_pumps(before: Layout, after: Layout, system: System | None = None) -> tuple[OtherPump, ...]:
    """Every pump of `after` that is not the one of that name in `before`, as far as its figures say.

    system: of the figures; that of `after` unless given.
    """
    system = system or System(after.units)
    pairs = [(before.pumps[name], pump) for name, pump in after.pumps.items() if name in before.pumps]
    others = []
    for old, new in pairs:
        built, stated = (_changed(old, new, keys) for keys in (BUILT, STATED))
        words = [_in_words(old, new, key, system) for key in (*built, *stated)]
        words += _changed_in_cases(before, after, new.name, system)
        if words:
            what = ", ".join(words)
            others.append(OtherPump(new.name, bool(built), what))
    return tuple(others)


def _changed_in_cases(before: Layout, after: Layout, pump: str, system: System) -> Iterator[str]:
    """Limits that a case has otherwise than the same case before: what is typed there counts there."""
    for name, case in after.cases.items():
        known = before.cases.get(name, Case())
        old, new = (each.figures.get(("pumps", pump, "limit")) for each in (known, case))
        was = old or before.pumps[pump].limit
        now = new or after.pumps[pump].limit
        if (old or new) and _in_si(was) != _in_si(now):
            yield f'limit {limit_text(now, system)} in place of {limit_text(was, system)} in "{name}"'


def _changed(old: Pump, new: Pump, keys: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(key for key in keys if _in_si(getattr(old, key)) != _in_si(getattr(new, key)))


def _in_si(value: object) -> object:
    """A figure in SI units, however it was typed; of a limit, all its figures."""
    if isinstance(value, Limit):
        return value.form, value.over, tuple((_in_si(at), _in_si(each)) for at, each in value.table)
    return getattr(value, "si", value)


def _in_words(old: Pump, new: Pump, key: str, system: System) -> str:
    name = CALLED.get(key, key.replace("_", " "))
    was, now = (_shown(getattr(pump, key), KINDS.get(key), system) for pump in (old, new))
    if not now:
        return f"no {name}"
    return f"{name} {now}" + (f" in place of {was}" if was else "")


def _shown(value: object, kind: Kind | None, system: System) -> str:
    if isinstance(value, Limit):
        return limit_text(value, system)
    if isinstance(value, Quantity) and kind is not None:
        return typeset(value.si, kind, system)
    if value is None or isinstance(value, bool):
        return "yes" if value else ""
    return str(value)


def limit_text(limit: Limit, system: System) -> str:
    """A maker's limit in the units of a system, "" for none: "16.9 kPa of vacuum", or from least to most."""
    kind, form = FORMS[limit.form]
    figures = sorted({value.si for _, value in limit.table})
    shown = list(dict.fromkeys(typeset(each, kind, system) for each in (*figures[:1], *figures[-1:])))
    return f"{' to '.join(shown)} {form}" if shown else ""
