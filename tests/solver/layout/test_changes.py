"""What an alternative says of its own, and what it leaves to the base."""

from __future__ import annotations

from dataclasses import replace

from solver.layout.file import Alternative, parse, with_base, write
from solver.quantities import units
from solver.quantities.units import Kind
from tests.drawings import EVERY_KEY
from tests.solver.layout.test_text import same
from tests.solver.layout.texts import changed_lines, moved

LENGTH = Kind.LENGTH


def test_an_edited_alternative_changes_its_own_line_only() -> None:
    drawing = parse(EVERY_KEY)
    name = "Wider, on the day tank"
    old = drawing.alternatives[name]
    lead = replace(old.layout.runs["lead"], bore=units.quantity("90 mm", Kind.BORE))
    layout = replace(old.layout, runs={**old.layout.runs, "lead": lead})
    text = write(replace(drawing, alternatives={**drawing.alternatives, name: replace(old, layout=layout)}))
    assert changed_lines(EVERY_KEY, text) == [('runs.lead.bore = "80 mm"', 'runs.lead.bore = "90 mm"')]


def test_an_alternative_says_only_what_differs() -> None:
    drawing = parse(EVERY_KEY)
    layout = moved(drawing.base, "saw", "1.5 m", "1.3 m")
    text = write(
        replace(drawing, alternatives={**drawing.alternatives, "Higher": Alternative("Why not.", layout)})
    )
    assert (
        text
        == EVERY_KEY.replace("# the end", "").rstrip("\n")
        + '\n\n[alternatives.Higher]\nnote = "Why not."\npumps.saw.at = ["1.5 m", "1.3 m"]\n# the end\n'
    )


def test_a_key_that_an_alternative_drops_is_named_in_without() -> None:
    drawing = parse(EVERY_KEY)
    riser = replace(drawing.base.runs["riser"], out_of_plane=None)
    layout = replace(drawing.base, runs={**drawing.base.runs, "riser": riser})
    edited = replace(drawing, alternatives={**drawing.alternatives, "Flat": Alternative("", layout)})
    text = write(edited)
    assert '[alternatives.Flat]\nwithout = ["runs.riser.out_of_plane"]\n' in text
    assert same(parse(text), edited)


def test_a_key_that_takes_another_ones_place() -> None:
    drawing = parse(EVERY_KEY)
    riser = replace(drawing.base.runs["riser"], bend="mitre", bend_radius=None)
    text = write(with_base(drawing, replace(drawing.base, runs={**drawing.base.runs, "riser": riser})))
    assert 'bend_radius = "76 mm"' not in text
    assert 'out_of_plane = "0.3 m"\nbend = "mitre"\n' in text
