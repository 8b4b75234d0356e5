"""Every row of every table: units, ranges, marks, and what must hold between its figures."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from ramwright.catalogue import Mark, Pipe, Row, pipes, sources, table, table_names
from ramwright.catalogue.units import UNITS

ALL = table_names()
SI = {unit.si for unit in UNITS.values()}


def rows() -> list[Row]:
    return [row for name in ALL for row in table(name)]


@pytest.mark.parametrize("name", ALL)
def test_each_table_loads_and_says_what_it_is(name: str) -> None:
    one = table(name)
    assert len(one) > 0
    assert one.title
    assert one.title[0].isupper()
    assert not one.title.endswith(".")
    assert one.provenance.source.text


@pytest.mark.parametrize("name", ALL)
def test_each_row_is_marked_and_no_mark_claims_too_much(name: str) -> None:
    for row in table(name):
        for provenance in (row.provenance, *row.more_provenance.values()):
            assert isinstance(provenance.mark, Mark)
            assert provenance.source.text
            # Read, or resting on what was read, only from a source of which a copy was seen.
            assert provenance.source.read or not provenance.firm, f"{name} line {row.line}"
            # Practice and judgement have nobody to point at unless a source is named on purpose.
            if provenance.source.key == "none":
                assert provenance.mark in {Mark.PRACTICE, Mark.JUDGEMENT}, f"{name} line {row.line}"
            if provenance.mark is not Mark.DERIVED:
                assert provenance.rests_on is provenance.mark


@pytest.mark.parametrize("name", ALL)
def test_each_figure_is_finite_in_si_and_in_order(name: str) -> None:
    for row in table(name):
        for value in row.values.values():
            assert not isinstance(value, float) or math.isfinite(value)
        if "unit" in row.values:
            assert row.text("unit") in SI
            low, likely, high = (row.maybe(part) for part in ("low", "likely", "high"))
            given = [value for value in (low, likely, high) if value is not None]
            assert given, f"{name} line {row.line} says nothing"
            assert given == sorted(given)


def test_shares_and_temperatures_stay_where_they_can_be() -> None:
    for row in rows():
        for name, value in row.values.items():
            if not isinstance(value, float):
                continue
            if name.endswith("_c"):
                assert 0.0 <= value <= 100.0, f"{row.table} line {row.line}"
            # a correction of a crest's width may take away as well
            if name.endswith(("_m", "_pa", "_m3_s", "_m_s", "_kg")) and name != "kb_m":
                assert value >= 0.0, f"{row.table} line {row.line}"


def test_every_source_is_used_and_none_is_named_twice() -> None:
    used = {"ours"}  # for arithmetic in tables of other rooms
    for name in ALL:
        used.add(table(name).provenance.source.key)
    for row in rows():
        used |= {each.source.key for each in (row.provenance, *row.more_provenance.values())}
    assert set(sources()) <= used
    texts = [(source.text, source.read) for source in sources().values()]
    assert len(texts) == len(set(texts))


def test_there_are_pipes_enough_from_half_an_inch_to_four() -> None:
    found = pipes()
    assert len(found) >= 150
    assert min(pipe.nominal_m for pipe in found) == pytest.approx(0.0127)
    assert max(pipe.od_m for pipe in found) < 0.120
    assert len({(pipe.series, pipe.size) for pipe in found}) == len(found)
    series = {row.text("series") for row in table("pipe_series")}
    assert {pipe.series for pipe in found} == series
    materials = {row.text("material") for row in table("materials")}
    assert {pipe.material for pipe in found} <= materials


@pytest.mark.parametrize("pipe", pipes(), ids=lambda pipe: pipe.name)
def test_outside_less_two_walls_is_the_bore(pipe: Pipe) -> None:
    # Printed figures are rounded to 0.01 mm (0.001 in); three of them add up to a few of that.
    assert abs(pipe.od_m - 2 * pipe.wall_m - pipe.id_m) < 6e-5
    assert 0.5e-3 < pipe.wall_m < pipe.id_m
    assert 0.3e6 < pipe.rating_pa < 11e6
    assert 15.0 < pipe.rating_temp_c < 40.0


def by_series() -> dict[str, list[Pipe]]:
    found: dict[str, list[Pipe]] = {}
    for pipe in pipes():
        found.setdefault(pipe.series, []).append(pipe)
    return found


@pytest.mark.parametrize("series", sorted(by_series()))
def test_sizes_rise_and_bigger_pipe_is_rated_no_higher_for_its_wall(series: str) -> None:
    sizes = by_series()[series]
    assert [pipe.id_m for pipe in sizes] == sorted(pipe.id_m for pipe in sizes)
    assert [pipe.od_m for pipe in sizes] == sorted(pipe.od_m for pipe in sizes)
    if "steel" in series:
        return  # threads take a third of the wall: tested against the formula
    # A relatively thinner wall never has the higher rating (in schedules 2 1/2 in is thicker than 2 in).
    for one in sizes:
        for other in sizes:
            if one.wall_m / one.od_m < 0.98 * other.wall_m / other.od_m:
                assert one.rating_pa <= other.rating_pa, f"{one.name} against {other.name}"


def test_ratings_fall_with_size_down_to_where_the_schedule_thickens() -> None:
    for series in ("pvc-sch-40", "pvc-sch-80", "steel-sch-40", "copper-type-l"):
        sizes = by_series()[series]
        falls = [one.rating_pa >= other.rating_pa for one, other in pairwise(sizes)]
        rises = [sizes[i + 1].size for i, fall in enumerate(falls) if not fall]
        assert rises in ([], ["2 1/2 in"]), series


def test_words_mean_one_key_in_their_table() -> None:
    for name in ALL:
        one = table(name)
        meant: dict[str, str] = {}
        for row in one:
            if "words" in row.values:
                for word in row.text("words").split(";"):
                    key = row.text(one.key[0])
                    assert meant.setdefault(word, key) == key, f"{name}: {word}"
                    assert word == word.strip().lower() or "US" in word, f"{name}: {word}"


def test_rows_point_at_rows_that_exist() -> None:
    materials = {row.text("material") for row in table("materials")}
    families = {row.text("family") for row in table("materials")}
    derated = {row.text("material") for row in table("temperature_factors")}
    for row in table("materials"):
        assert row.text("derated_as") in derated
    assert {row.text("material") for row in table("material_properties")} == materials
    for row in table("joints"):
        assert set(row.text("families").split()) - {"rubber"} <= families
    for row in table("steel_rating_basis"):
        assert table("pipe_series").row(row.text("series")).text("family") == "steel"
