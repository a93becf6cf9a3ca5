"""What may stick or lie in a part is said in the words of its kind."""

from __future__ import annotations

from dataclasses import replace

from solver.field.causes import CauseKind, causes
from solver.field.explain import explain
from solver.field.lodged import CHECK, CONNECTOR, FILTER, RAG, lodged
from solver.layout import file
from solver.layout.kinds import CHECK_KINDS, VALVE_KINDS, FittingKind
from solver.ledger.solve import solve
from tests.drawings import SHIPPED
from tests.solver.field.test_causes import DRAWN, READING


def test_no_part_but_a_valve_is_said_to_be_half_shut() -> None:
    """Of the parts as the part itself would have them: the drawing's first, as each kind in turn."""
    fitting = next(iter(DRAWN.fittings.values()))
    for kind in FittingKind:
        words = lodged(replace(fitting, kind=kind, screen=None))
        assert (words == "") is (kind in VALVE_KINDS), kind
        assert (words == CHECK) is (kind in CHECK_KINDS), kind
    kinds = (FittingKind.FILTER, FittingKind.FLEXIBLE_CONNECTOR, FittingKind.KNOWN_K)
    each = [lodged(replace(fitting, kind=kind, screen=None)) for kind in kinds]
    assert each == [FILTER, CONNECTOR, RAG]


def test_causes_of_every_drawing_name_a_valve_only_where_one_is() -> None:
    tried = 0
    for path in SHIPPED:
        layout = file.read(path).base
        for ledger in solve(layout).pumps.values():
            for cause in causes(layout, ledger, [READING]):
                if cause.kind is CauseKind.RESISTANCE:
                    tried += 1
                    has_valve = layout.fittings[cause.part].kind in (*VALVE_KINDS, *CHECK_KINDS)
                    assert ("valve" in cause.name.partition(":")[0]) is has_valve, cause.name
    assert tried > 5


def test_an_explanation_has_the_words_of_its_cause() -> None:
    names = {each.name for each in explain([READING]).explanations if each.cause is CauseKind.RESISTANCE}
    own = {name for name, part in DRAWN.fittings.items() if part.kind not in VALVE_KINDS}
    assert own
    assert all(not name.startswith("valve half shut") for name in names if name.rpartition(": ")[2] in own)
