"""What the strip says of the margin."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from sketch.editing import edits
from sketch.model.document import Document
from sketch.strip import readings
from solver.findings.judgement import Judgement, judge
from solver.layout.file import read
from solver.quantities import units
from solver.quantities.adding import as_shown
from solver.quantities.units import Kind, System
from tests.drawings import SHIPPED
from tests.sketch import samples

(CARRIAGE,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")


def test_without_a_ledger_nothing_is_claimed() -> None:
    assert readings.margin_text(None, System.SI) == "Not calculated"


def test_a_margin_is_within_or_over() -> None:
    within = readings.margin_text(samples.ledger(samples.SHARES), System.SI)
    over = readings.margin_text(
        samples.ledger({k: 2 * share for k, share in samples.SHARES.items()}), System.SI
    )
    assert within[0].isupper()
    assert "over" not in within.lower()
    assert "over" in over.lower()
    assert "kPa" in within


def test_a_drawing_that_was_never_saved_is_held_against_how_it_began() -> None:
    document = Document()
    document.open_drawing(read(CARRIAGE), CARRIAGE)
    assert readings.change_text(document) == "as saved"
    document.begin(document.layout)
    assert document.path is None
    assert readings.change_text(document) == "as at first"
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert readings.change_text(document).endswith(" better than at first")
    document.add_alternative("Never saved")
    assert readings.change_text(document).endswith(" better than the drawing")


def test_a_case_in_less_room_keeps_its_amount_and_its_estimate() -> None:
    assert readings.short_text("over by 5.8 inHg, est.") == "5.8 inHg over, est."
    assert readings.short_text("margin 6.9 kPa, est.") == "6.9 kPa left, est."
    assert readings.short_text("column breaks") == "column breaks"


def test_beside_a_margin_that_has_changed_no_other_is_called_the_same_alone() -> None:
    """Where a figure of one case has changed, undone and made again over a saved drawing."""
    now, saved = {"": 5000.0, "cold": 4000.0}, {"": 5000.0, "cold": 1000.0}
    better, worse = change_of(now, saved), change_of(saved, now)
    assert better.startswith("in view the same as saved; worst case 3.")
    assert better.endswith("kPa better")
    assert worse.startswith("worst case 3.")
    assert worse.endswith("kPa worse; in view the same as saved")


def change_of(
    now: Mapping[str, float], saved: Mapping[str, float], shown: str = "", system: System = System.SI
) -> str:
    """What is written where one pump's margins were some and are others, by case."""

    def outcome(margins: Mapping[str, float]) -> Any:
        return SimpleNamespace(case=shown, margins=lambda _: dict(margins))

    document: Any = SimpleNamespace(
        outcome=outcome(now), saved_outcome=outcome(saved), case=shown, pump="any",
        path=Path("any.toml"), layout="now", saved_layout="saved", system=system, alternative="",
    )  # fmt: skip
    return readings.change_text(document)


def test_a_margin_that_is_shown_otherwise_is_not_the_same() -> None:
    assert change_of({"": 2444.0}, {"": 2446.0}) == "0.01 kPa worse than saved", "2.44 kPa left beside 2.45"
    assert change_of({"": 2446.0}, {"": 2448.0}) == "same margin as saved"


def test_what_a_margin_gained_is_the_difference_of_what_is_shown_of_it() -> None:
    otherwise = 0  # what the figures before rounding would have come to
    for each in map(read, SHIPPED):
        before = judge(each.base)
        for after in (judge(alternative.layout) for alternative in each.alternatives.values()):
            for pump, system in product(each.base.pumps, System):
                saved, now = (margins(judgement, pump) for judgement in (before, after))
                for case in saved.keys() & now.keys():
                    was, left = (as_shown(of[case], Kind.VACUUM, system) for of in (saved, now))
                    said = change_of(now, saved, case, system)
                    in_view = said.partition("in view ")[2] or said
                    gain, unit = abs(left - was), units.unit(Kind.VACUUM, system)
                    words = f"{gain} {unit} {'better' if left > was else 'worse'} than saved"
                    assert (words if gain else "same ") in in_view
                    otherwise += abs(as_shown(now[case] - saved[case], Kind.VACUUM, system)) != gain
    assert otherwise


def margins(judgement: Judgement, pump: str) -> dict[str, float]:
    """A pump's margin by case [Pa]."""
    return {each.case: each.ledger.margin for each in judgement.pumps_in_cases if each.pump == pump}


def test_each_figure_of_a_change_is_that_of_its_own_case() -> None:
    saved = {"": 9000.0, "cold": 3006.0}
    said = "worst case 1.23 kPa better; in view 1.24 kPa better than saved"
    assert change_of({"": 10236.0, "cold": 4242.0}, saved) == said, "3.01 and 4.24, 9.00 and 10.24"


def test_a_case_that_is_not_in_view_keeps_a_change_from_reading_as_none() -> None:
    saved = {"": 9000.0, "cold": 3000.0, "hot": 6000.0}
    assert change_of(saved, saved) == "same margin as saved"
    assert (
        change_of({**saved, "cold": 1000.0}, saved) == "worst case 2.00 kPa worse; in view the same as saved"
    )
    assert change_of({**saved, "hot": 5000.0}, saved) == '"hot" 1.00 kPa worse; in view the same as saved'
    better = {**saved, "": 9500.0}
    assert change_of(better, saved) == "worst case the same; in view 0.50 kPa better than saved"
    whole = {name: margin - 1000.0 for name, margin in saved.items()}
    assert change_of(whole, saved) == "1.00 kPa worse than saved"


def test_a_case_that_is_judged_no_longer_makes_nothing_better() -> None:
    saved = {"": 9000.0, "cold": 3000.0, "hot": 6000.0}
    kept = {"": 9000.0, "hot": 6000.0}
    assert change_of(kept, saved) == "1 case no longer judged; same margin as saved"
    assert (
        change_of(saved, kept) == "worst case 3.00 kPa worse; in view the same as saved; 1 case newly judged"
    )
    assert change_of(saved, {"cold": 3000.0}) == "not judged as saved; 2 cases newly judged"
    assert change_of(kept, saved, shown="cold") == "", "the margin in view is not calculated"
