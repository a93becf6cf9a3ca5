"""How figures read in a sentence: a pressure as a gauge shows it, as it is allowed, where no fluid has it.

And refusals that quote figures, to be read in either system of units.
"""

from __future__ import annotations

import math
import re
import traceback
import unicodedata
from pathlib import Path
from typing import Self

from solver.quantities.adding import PLACES
from solver.quantities.units import (
    Kind,
    System,
    fixed,
    number,
    quantity,
    to_display,
    typeset,
    unit,
    with_places,
)

ESTIMATED = ", est."
"""Put to a figure that hangs on an estimated limit, where there is no room for words."""

ASK_THE_MAKER = "ask the pump maker for the limit at that speed"

Quoted = str | tuple[float, Kind]
"""What stands in a refusal: words as they are, or a figure [SI unit of its kind]."""


class QuotingError(ValueError):
    """A refusal that quotes figures. Read as plain text, they are in SI."""

    def __init__(self, sentence: str, /, *, end: str = "", **quoted: Quoted) -> None:
        """Parameters: `sentence`, with a place in braces for each of `quoted`, and as it stands without any;
        `end`, the same for one who went as far as he could, and to whom the place that was tried says
        nothing."""
        self._sentence, self._end, self._quoted = sentence, end, quoted
        self.text = self.text_in(System.SI)
        super().__init__(self.text)

    @classmethod
    def quoting(cls, other: QuotingError) -> Self:
        """Another refusal, made one of this class."""
        return cls(other._sentence, end=other._end, **other._quoted)

    def text_in(self, system: System) -> str:
        """The text, with its figures in the units of a system."""
        return self._put(self._sentence, system)

    def end_text(self, system: System) -> str:
        """The text for one who came as far as he could, its figures in the units of a system."""
        return self._put(self._end or self._sentence, system)

    def _put(self, sentence: str, system: System) -> str:
        if not self._quoted:
            return sentence
        return sentence.format(**{name: _quote(each, system) for name, each in self._quoted.items()})


ZERO_IN_SIGHT = 0.1  # [K]


def _quote(quoted: Quoted, system: System) -> str:
    if isinstance(quoted, str):
        return quoted
    si, kind = quoted
    if kind is Kind.TEMPERATURE:
        places = 1 if si > ZERO_IN_SIGHT else 2  # -273.1 °C would lie above the absolute zero
        return f"{fixed(si, kind, system, places).removesuffix('.0')} {unit(kind, system)}"
    return typeset(si, kind, system)


def error_text(error: ValueError, system: System) -> str:
    """Why something was refused; the figures that the refusal quotes itself in the units of a system."""
    return error.text_in(system) if isinstance(error, QuotingError) else str(error)


def end_text(error: ValueError, system: System) -> str:
    """Why a search could go no further: the words of a refusal for one who came as far as he could."""
    return error.end_text(system) if isinstance(error, QuotingError) else str(error)


def ledger_pressure(pressure: float, system: System) -> str:
    """A difference of pressures [Pa] as a ledger shows it."""
    return typeset(pressure, Kind.VACUUM, system, PLACES)


def ledger_absolute(pressure: float, system: System) -> str:
    """An absolute pressure [Pa] as a ledger shows it."""
    return typeset(pressure, Kind.ABSOLUTE, system, PLACES)


def over_atmosphere(pressure: float, system: System, places: int | None = None) -> str:
    """A pressure above the atmosphere [Pa], in US units also in psi, as reservoirs are pressed; `places`,
    here and below: decimals, if not as usual."""
    return typeset(pressure, Kind.VACUUM, system, places) + in_psi(pressure, system)


def in_psi(pressure: float, system: System) -> str:
    """A pressure above the atmosphere [Pa] in psi, to stand behind its figure; "" in SI."""
    return f" ({typeset(pressure, Kind.PRESSURE, system)})" if system is System.US else ""


PRESSURE = "pressure"
"""Behind a figure that is over the atmosphere's, where one of a vacuum has no word."""


def gauge_reading(vacuum: float, system: System, places: int | None = None) -> str:
    """What a gauge shows of a vacuum [Pa, positive below the atmosphere]."""
    if is_none(vacuum, Kind.VACUUM, system, places):
        return "the atmosphere's pressure"
    if vacuum < 0:
        return f"{over_atmosphere(-vacuum, system, places)} above the atmosphere"
    return f"{typeset(vacuum, Kind.VACUUM, system, places)} of vacuum"


def is_over_atmosphere(vacuum: float, system: System) -> bool:
    """Whether a vacuum [Pa] is shown as a pressure above the atmosphere."""
    return vacuum < 0.0 and not is_none(vacuum, Kind.VACUUM, system)


def with_side(vacuum: float, system: System) -> str:
    """A vacuum [Pa] in short; one above the atmosphere is said to be a pressure."""
    text = typeset(abs(vacuum), Kind.VACUUM, system)
    return f"{text} {PRESSURE}" if is_over_atmosphere(vacuum, system) else text


def allowed_there(vacuum: float, system: System) -> str:
    """What is allowed at a place, of its largest vacuum [Pa]: a vacuum rises, a pressure falls to it."""
    if is_over_atmosphere(vacuum, system):
        return f"no less than {gauge_reading(vacuum, system)}"
    return f"no more than {typeset(abs(vacuum), Kind.VACUUM, system)}"


def reached(vacuum: float, system: System) -> str:
    """From which reading on something is to be done, of a vacuum [Pa] that rises or a pressure that falls."""
    if is_over_atmosphere(vacuum, system):
        return f"{gauge_reading(vacuum, system)} or less"
    return typeset(abs(vacuum), Kind.VACUUM, system)


def allowance(vacuum: float, system: System, places: int | None = None) -> str:
    """What is allowed at a port, of its largest vacuum [Pa, positive below the atmosphere]."""
    if vacuum < 0:
        least = text_above_zero(-vacuum, Kind.VACUUM, system, places=places) + in_psi(-vacuum, system)
        return f"no vacuum is allowed here: the port must stand at least {least} above the atmosphere"
    return f"{text_above_zero(vacuum, Kind.VACUUM, system, places=places)} of vacuum is allowed here"


def compared(vacuum: float, allowed: float, system: System, places: int | None = None) -> str:
    """What a gauge shows beside what is allowed, both vacuums [Pa, positive below the atmosphere]."""
    shown = f"{gauge_reading(vacuum, system, places)} at the port"
    if vacuum < 0 or allowed < 0:
        return f"{shown}; {allowance(allowed, system, places)}"
    return f"{shown}, {typeset(allowed, Kind.VACUUM, system, places)} allowed here"


def broken(pressure: float, vapor_pressure: float, system: System) -> str:
    """Why fluid cannot have a static pressure [Pa absolute], its vapour pressure being what it is [Pa]."""
    shown = ledger_absolute(pressure, system)
    if pressure <= 0:
        return f"it would need {shown}"
    return f"{shown} is left, and it boils at {ledger_absolute(vapor_pressure, system)}"


def margin_words(margin: float, system: System, less: str = "less than ") -> str:
    """A margin [Pa] in a few words, alike wherever one stands: "margin 0.62 inHg", "over by 1.20 inHg";
    `less` is how a figure is begun that would read as nothing."""
    figure = text_above_zero(abs(margin), Kind.VACUUM, system, less, PLACES)
    return f"over by {figure}" if margin < 0 else f"margin {figure}"


def is_none(value: float, kind: Kind, system: System, places: int | None = None) -> bool:
    """Whether a value [SI unit of the kind] is shown as nothing but noughts."""
    digits = number(abs(value), kind, system, places)
    return digits.replace(".", "").isdecimal() and not float(digits)


def text_above_zero(
    value: float, kind: Kind, system: System, less: str = "less than ", places: int | None = None
) -> str:
    """A positive value, never shown as nothing."""
    digits = number(value, kind, system, places)
    if float(digits):
        return typeset(value, kind, system, places)
    return f"{less}{digits[:-1]}1 {unit(kind, system)}"


def degrees(temperature: float, system: System) -> str:
    """A temperature [K] as it is spoken of: "5 °C", "35.5 °F"."""
    return typeset(temperature, Kind.TEMPERATURE, system).replace(".0 ", " ")


def significant(si: float, kind: Kind, system: System, digits: int = 2) -> str:
    """A small figure [SI unit of the kind] with its unit, by its digits: "0.11 mm", "0.0045 in"."""
    value = to_display(si, kind, system)
    places = max(digits - 1 - math.floor(math.log10(abs(value))), 0) if value else 0
    return f"{with_places(value, places)} {unit(kind, system)}"


_WRITTEN = re.compile(
    r"(?P<first>\d[\d.]*)(?: to (?P<last>\d[\d.]*))? (?P<unit>kg/m³|kg/m3|kg/L|mm²/s|mm2/s|°C|degC|Pa)"
    r"(?P<slope> a kelvin)?(?![\w²³/])"
)
"""A figure, or a band of them, as sources quote it: in SI."""

_KINDS = {
    "kg/m³": Kind.DENSITY, "kg/m3": Kind.DENSITY, "kg/L": Kind.DENSITY, "mm²/s": Kind.VISCOSITY,
    "mm2/s": Kind.VISCOSITY, "°C": Kind.TEMPERATURE, "degC": Kind.TEMPERATURE, "Pa": Kind.VACUUM,
}  # fmt: skip


def figures_in(text: str, system: System) -> str:
    """What a source quotes in SI, each figure of it in a system of units."""
    return _WRITTEN.sub(lambda quoted: _in_system(quoted, system), text)


def _in_system(quoted: re.Match[str], system: System) -> str:
    kind, typed = _KINDS[quoted["unit"]], quoted["unit"].replace("°C", "degC").replace("m3", "m^3")
    if system is System.SI and kind is Kind.VACUUM:
        return quoted[0]
    if quoted["slope"]:
        return _slope(float(quoted["first"]), system)
    ends = [quantity(f"{each} {typed}", kind).si for each in (quoted["first"], quoted["last"]) if each]
    shown = [
        significant(si, kind, system, 1) if kind is Kind.VACUUM else _plain(si, kind, system) for si in ends
    ]
    named = f" {unit(kind, system)}"
    return f"{shown[0].removesuffix(named)} to {shown[1]}" if len(shown) > 1 else shown[0]


def _plain(si: float, kind: Kind, system: System) -> str:
    return typeset(si, kind, system).replace(".0 ", " ")


def _slope(each_kelvin: float, system: System) -> str:
    """How a density changes with warmth [kg/m³ a kelvin]."""
    if system is System.SI:
        return f"{each_kelvin:g} {unit(Kind.DENSITY, system)} a kelvin"
    of_degree = to_display(each_kelvin, Kind.DENSITY, system) / KELVIN
    return f"{of_degree:.2g} {unit(Kind.DENSITY, system)} a degree"


KELVIN = 1.8
"""Degrees Fahrenheit."""

_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")
"""Unicode's categories of what commands a terminal or turns text about and shows nothing itself."""


def is_control(character: str) -> bool:
    """Whether a character is not there to be seen: it moves, erases or turns about what is."""
    return unicodedata.category(character) in _UNSEEN


def printable(text: str, keep: str = "") -> str:
    """The text with each control character written out, as \\x1b or \\u202e; those in `keep` stay."""
    if text.isprintable():
        return text
    if "\n" in keep and "\n" in text:  # most lines of a page have nothing to be written out
        return "\n".join(printable(line, keep) for line in text.split("\n"))
    return "".join(
        each.encode("unicode_escape").decode("ascii") if each not in keep and is_control(each) else each
        for each in text
    )


def capitalised(sentence: str) -> str:
    """A sentence with its first letter large; "" as it is."""
    return sentence[:1].upper() + sentence[1:]


def uncapitalised(sentence: str) -> str:
    """A sentence with its first letter small, as it goes on behind another; "" as it is."""
    return sentence[:1].lower() + sentence[1:]


def with_article(noun: str) -> str:
    """A noun with "a" or "an" before it, by its first letter."""
    return f"{'an' if noun[:1].lower() in 'aeiou' else 'a'} {noun}"


def fault(error: Exception) -> str:
    """One sentence on a fault of the program, with all that is needed to find it."""
    place = traceback.extract_tb(error.__traceback__)[-1]
    return printable(
        f"The program failed and gives no answer: {type(error).__name__} ({error}) in "
        f"{Path(place.filename).name}, line {place.lineno}. "
        "Please report this sentence with the drawing and the command as you typed it."
    )
