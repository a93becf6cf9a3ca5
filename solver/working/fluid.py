"""How the properties of the fluid come about, step by step, from the same curves that the solver reads."""

from __future__ import annotations

from solver.formulas import fluid as formulas
from solver.formulas.record import Recorder
from solver.formulas.steps import Step, steps
from solver.properties.families import ZERO
from solver.properties.fluid import FluidState
from solver.quantities.units import System


def fluid_steps(tank: FluidState, line: FluidState, system: System) -> tuple[Step, ...]:
    """Temperature, density, viscosity, vapour pressure and dissolved air in the tank, and in a line that is
    not as warm."""
    if line is tank:
        return _steps(tank, system, "as typed")
    return (
        *_steps(tank, system, "in the tank, as typed"),
        *_steps(line, system, "in the line, as typed"),
    )


def _steps(state: FluidState, system: System, whence: str) -> tuple[Step, ...]:
    recorder = Recorder()
    celsius = state.temperature - ZERO
    if system is System.US:
        fahrenheit = recorder.given(formulas.fahrenheit, celsius * 1.8 + 32.0, whence)
        recorder.work(formulas.from_fahrenheit, fahrenheit)
    else:
        recorder.work(formulas.from_celsius, recorder.given(formulas.celsius, celsius, whence))
    state.explain(recorder)
    return steps(recorder.steps, system)
