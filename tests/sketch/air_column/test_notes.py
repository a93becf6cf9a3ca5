"""What is written beside the column."""

from __future__ import annotations

from dataclasses import replace

from sketch.air_column import notes as column_notes
from sketch.air_column import slices
from sketch.model.read_marks import ReadMark
from solver.field.gauges import Band
from solver.field.places import Place
from solver.ledger.solve import PumpLedger
from solver.properties.atmosphere import SEA_LEVEL
from solver.quantities.units import System
from tests.sketch import samples


def texts_of(ledger: PumpLedger, pointed: str = "", system: System = System.US) -> list[str]:
    listed_notes = column_notes.notes(ledger, slices.slices(ledger), system, pointed)
    return [f"{note.share} {note.text}".strip() for note in listed_notes]


def test_what_is_written_beside_a_column_within_its_limit() -> None:
    texts = texts_of(samples.ledger(samples.SHARES))
    assert "46 % riser, straight 1" in texts
    assert not any("entrance" in text for text in texts)
    for expected in ("sea level", "kept to fill the pump", "perfect vacuum"):
        assert expected in texts
    assert any(text.startswith("margin 1.48 inHg") for text in texts)
    assert any(text.startswith("floor ") for text in texts)
    assert any(text.startswith("1.87 inHg less here") for text in texts)


def test_a_small_share_is_written_when_pointed_at() -> None:
    assert "0.4 % strainer, entrance" in texts_of(samples.ledger(samples.SHARES), "strainer/entrance")


def test_over_the_limit_there_is_no_margin() -> None:
    texts = texts_of(samples.ledger({"a/1": 1.5}))
    assert any(text.startswith("over by") for text in texts)
    assert not any(text.startswith("margin") for text in texts)


def test_without_a_budget_no_share_is_written_and_one_shortfall() -> None:
    texts = texts_of(samples.ledger(samples.SHARES, budget=-6_000.0))
    assert not any("%" in text for text in texts)
    assert sum(text.startswith(("over by", "lacking")) for text in texts) == 1


def test_at_sea_level_nothing_is_missing() -> None:
    texts = texts_of(samples.ledger(samples.SHARES, atmosphere=SEA_LEVEL))
    assert not any(text.startswith(("sea level", "not here")) for text in texts)


def test_the_reservoir_s_pressure_has_its_own_note() -> None:
    ledger = samples.ledger(samples.SHARES, surface=105_000.0)
    assert any(text.startswith("reservoir +") for text in texts_of(ledger))
    ledger = samples.ledger(samples.SHARES, surface=93_000.0)
    assert any(text.startswith("reservoir takes") for text in texts_of(ledger))


def test_when_room_is_short_the_smallest_shares_go_first() -> None:
    ledger = samples.ledger(samples.SHARES)
    wanted = column_notes.notes(ledger, slices.slices(ledger), System.US, "press/port")
    kept = {note.text for note in column_notes.keep(wanted, 8)}
    assert "press, velocity head" in kept  # it is pointed at
    assert "riser, bend 1" not in kept
    assert any(text.startswith("floor") for text in kept)


def test_what_no_room_is_left_for_is_left_out_beforehand() -> None:
    ledger = samples.ledger(samples.SHARES)
    cut = slices.slices(ledger)
    for pointed in ("", "press/port", "riser/bend 1"):
        every = column_notes.notes(ledger, cut, System.US, pointed)
        assert sum(note.kind is column_notes.NoteKind.SLICE for note in every) > 2
        for most in range(-1, len(every) + 2):
            fewer = column_notes.notes(ledger, cut, System.US, pointed, most)
            assert column_notes.keep(fewer, most) == column_notes.keep(every, most)


def test_an_estimated_floor_says_so() -> None:
    ledger = samples.ledger(samples.SHARES)
    marked = [text for text in texts_of(replace(ledger, limit_estimated=True)) if text.startswith("floor ")]
    assert [text.endswith(" inHg abs, est.") for text in marked] == [True]
    assert not any("est." in text for text in texts_of(ledger))


def test_a_port_above_the_atmosphere_is_said_so() -> None:
    ledger = replace(samples.ledger(samples.SHARES), vacuum=-3_000.0)
    assert "at the port +0.89 inHg (0.44 psi)" in texts_of(ledger)
    assert "at the port atmospheric" in texts_of(replace(ledger, vacuum=-15.0))


def test_a_pressed_reservoir_says_psi_too_and_one_under_vacuum_does_not() -> None:
    ledger = samples.ledger(samples.SHARES)
    pressed = replace(ledger, surface=ledger.atmosphere + 41_368.5)
    assert "reservoir +12.22 inHg (6.00 psi)" in texts_of(pressed)
    drawn = replace(ledger, surface=ledger.atmosphere - 3_386.4)
    assert "reservoir takes 1.00 inHg" in texts_of(drawn)


def test_a_hair_over_is_no_nothing() -> None:
    ledger = samples.ledger(samples.SHARES)
    assert "over by less than 0.01 inHg" in texts_of(replace(ledger, margin=-1.0))
    assert any(
        text.startswith("margin less than 0.01 inHg, ") for text in texts_of(replace(ledger, margin=1.0))
    )


def test_another_case_is_noted_where_its_pressure_at_the_port_lies() -> None:
    ledger = samples.ledger(samples.SHARES)
    (note,) = column_notes.of_others((("cold morning", replace(ledger, limit_estimated=True)),), System.SI)
    assert note.pressure == ledger.inlet
    assert note.text.startswith("cold morning: margin ")
    assert note.text.endswith(" est.")
    assert "," not in note.text


def test_what_a_gauge_at_the_port_has_read_stands_on_the_scale_of_vacuum() -> None:
    ledger = samples.ledger(samples.SHARES)
    band = Band(9e3, 9e3)
    port = ReadMark(Place("pump"), 2.0, (0.0, 0.0), band, band, True, "2026-03-04 09:30", 310.0)
    tap = replace(port, place=Place("pump", "riser", 0.4), over=False)
    (note,) = column_notes.of_reads((tap, port), ledger, System.SI)
    assert note.pressure == ledger.atmosphere - 9e3
    assert (note.text, note.kind) == ("read 9.0, 2026-03-04", column_notes.NoteKind.OVER)


def test_a_port_near_the_atmosphere_has_the_decimals_of_the_sum_that_it_stands_in() -> None:
    """Beside two figures of two decimals "atmospheric" would be a third of another kind."""
    ledger = samples.ledger(samples.SHARES)
    near = replace(ledger, inlet=ledger.atmosphere + 135.0, vacuum=-135.0)  # 0.04 inHg
    assert column_notes.reading(near, System.US).startswith("+0.04 inHg")
    assert column_notes.reading(near, System.SI).startswith("+0.1")
    none = replace(ledger, inlet=ledger.atmosphere, vacuum=0.0)
    assert column_notes.reading(none, System.US) == "atmospheric"
