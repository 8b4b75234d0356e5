"""Tables are read with their units and marks, and a wrong one is refused where it is wrong."""

from __future__ import annotations

import statistics
import subprocess
import sys

import pint
import pytest

from ramwright.catalogue import Figure, Mark, Provenance, Row, Source, Table, read_table, table
from ramwright.catalogue.loader import DATA
from ramwright.catalogue.units import UNITS, split_header
from ramwright.errors import InputError

WORKS = {
    "book": Source("book", "a book that was opened", True),
    "hearsay": Source("hearsay", "a book that was not", False),
    "none": Source("none", "common practice, no source", False),
}
SIDECAR = """
title = "Test pipe"
source = "book"
mark = "read"
key = ["size"]
[columns]
size = { is = "size", kind = "text" }
od_mm = { is = "outside", min = 10, max = 100 }
rating_psi = { is = "rating", optional = true }
threaded = { is = "threaded", kind = "flag", choices = [] }
"""
ROWS = "size,od_mm,rating_psi,threaded,mark,source,rating_mark,rating_source,rating_rests_on\n"
GOOD = ROWS + "1 in,33.4,100,yes,,,memory,hearsay,\n2 in,60.3,,no,practice,,derived,hearsay,memory\n"


def read(rows: str = GOOD, sidecar: str = SIDECAR) -> Table:
    return read_table("test", rows, sidecar, WORKS)


def test_headers_become_si_and_cells_with_them() -> None:
    first = read().row("1 in")
    assert first.number("od_m") == pytest.approx(0.0334, rel=1e-12)
    assert first.number("rating_pa") == pytest.approx(689475.7293, rel=1e-9)
    assert first.flag("threaded")
    assert not read().row("2 in").flag("threaded")
    assert read().row("2 in").maybe("rating_pa") is None


def test_each_row_knows_its_mark_and_its_source() -> None:
    rows = read()
    first, second = rows.row("1 in"), rows.row("2 in")
    assert (first.provenance.mark, first.provenance.source.key) == (Mark.READ, "book")
    assert first.provenance.firm
    assert first.provenance_of("rating").mark is Mark.MEMORY
    assert not first.provenance_of("rating").firm
    assert second.provenance.mark is Mark.PRACTICE
    assert second.provenance.source.text == "common practice, no source"
    assert second.provenance_of("rating").rests_on is Mark.MEMORY
    assert rows.marks == {Mark.READ, Mark.PRACTICE}


def test_what_rests_on_read_figures_is_firm_and_what_rests_on_memory_is_not() -> None:
    of = {basis: Provenance(Mark.DERIVED, WORKS["book"], basis).firm for basis in Mark}
    assert [basis for basis, firm in of.items() if firm] == [Mark.READ]


RANGED = """
title = "Test figures"
source = "hearsay"
mark = "memory"
key = ["what"]
[columns]
what = { is = "what", kind = "text" }
"""


def test_ranges_take_the_unit_of_their_cell() -> None:
    rows = read("what,low,likely,high,unit\nslope,0.1,0.2,0.5,pct\nhole,1,,2,mm\nspan,,3,,ft\n", RANGED)
    assert rows.row("slope").figure.high == pytest.approx(0.005)
    assert rows.row("slope").figure.unit == "1"
    assert rows.row("hole").number("low") == pytest.approx(0.001)
    span = rows.row("span").figure
    assert (span.low, span.likely, span.high) == pytest.approx((0.9144, 0.9144, 0.9144))
    with pytest.raises(InputError, match="catalogue_no_number"):
        _ = rows.row("hole").figure


def test_low_and_high_stand_for_one_value_in_ten_outside_each() -> None:
    estimate = Figure(1.0, 2.5, 3.0, "m", read().provenance).estimate()
    # The bell curve of the standard library: P(X < low) = 0.1 when low and high are 10 % and 90 %.
    assert estimate.value == 2.5
    assert statistics.NormalDist(2.0, estimate.sd).cdf(1.0) == pytest.approx(0.1, abs=1e-9)


# Units of no library: the first is tested below, the others are only named.
OWN = {"mm_sqrt_km", "m_sqrt_m", "mg_l_per_us_cm", "1"}
LIBRARY: pint.UnitRegistry[float] = pint.UnitRegistry()


@pytest.mark.parametrize("name", sorted(set(UNITS) - OWN))
def test_units_agree_with_a_general_library(name: str) -> None:
    written = {
        "l": "liter", "gpm": "gallon/minute", "l_s": "liter/s", "l_min": "liter/minute", "c": "degC",
        "l_day": "liter/day", "gal_day": "gallon/day", "mm_day": "mm/day", "in_week": "inch/week",
        "per_min": "1/minute", "per_s": "1/s", "per_k": "1/kelvin", "kg_m3": "kg/m^3", "m_s": "m/s",
        "mm_s": "mm/s", "ft_s": "foot/s", "m3_s": "m^3/s", "m2": "m^2", "m3": "m^3", "n": "newton",
        "n_m": "newton/m", "f": "degF", "in": "inch", "pa": "pascal", "kpa": "kPa", "mpa": "MPa",
        "per_m": "1/m", "gpa": "GPa", "deg": "degree", "pct": "percent", "min": "minute",
        "us_cm": "microsiemens/centimeter",
    }  # fmt: skip
    si = {"c": "degC", "rad": "radian", "1": "", "n": "newton", "n_m": "newton/m", "s_m": "siemens/m"}
    target = si.get(UNITS[name].si, written.get(UNITS[name].si, UNITS[name].si))
    expected = LIBRARY.Quantity(3.7, written.get(name, name)).to(target).magnitude
    assert UNITS[name].to_si(3.7) == pytest.approx(expected, rel=1e-12)


def test_a_misclosure_coefficient_in_mm_root_km_is_that_of_a_kilometre() -> None:
    # 12 mm sqrt(km) over 4 km is 24 mm.
    assert UNITS["mm_sqrt_km"].to_si(12.0) * 4000.0**0.5 == pytest.approx(0.024)


@pytest.mark.parametrize(
    ("header", "name"),
    [
        ("od_mm", "od_m"),
        ("speed_mm_s", "speed_m_s"),
        ("flow_l_min", "flow_m3_s"),
        ("temp_f", "temp_c"),
        ("wet_pct", "wet"),
        ("per_inch", "per_inch"),
        ("coefficient", "coefficient"),
    ],
)
def test_headers_name_their_unit_at_their_end(header: str, name: str) -> None:
    assert split_header(header)[0] == name


LINE = "1 in,33.4,100,yes,,,,,\n"


@pytest.mark.parametrize(
    ("code", "rows", "line"),
    [
        ("catalogue_table_empty", ROWS, None),
        ("catalogue_row_length", ROWS + "1 in,33.4\n", 2),
        ("catalogue_cell_missing", ROWS + ",33.4,100,yes,,,,,\n", 2),
        ("catalogue_cell_not_a_number", ROWS + LINE + "2 in,wide,100,yes,,,,,\n", 3),
        ("catalogue_cell_not_a_number", ROWS + "2 in,nan,100,yes,,,,,\n", 2),
        ("catalogue_cell_out_of_range", ROWS + "2 in,603,100,yes,,,,,\n", 2),
        ("catalogue_cell_not_a_flag", ROWS + "2 in,60.3,100,true,,,,,\n", 2),
        ("catalogue_mark_unknown", ROWS + "2 in,60.3,100,yes,seen,,,,\n", 2),
        ("catalogue_source_unknown", ROWS + "2 in,60.3,100,yes,read,bock,,,\n", 2),
        ("catalogue_source_not_read", ROWS + "2 in,60.3,100,yes,read,hearsay,,,\n", 2),
        ("catalogue_source_not_read", ROWS + "2 in,60.3,100,yes,,,derived,hearsay,read\n", 2),
        ("catalogue_derived_from_what", ROWS + "2 in,60.3,100,yes,,,derived,book,\n", 2),
        ("catalogue_row_repeated", ROWS + LINE + LINE, 3),
        ("catalogue_column_undeclared", GOOD.replace("od_mm", "od_cm"), None),
        ("catalogue_column_absent", "size,od_mm,threaded\n1 in,33.4,yes\n", None),
        ("catalogue_column_twice", "size,od_mm,od_mm,rating_psi,threaded\n1 in,33.4,33.4,1,yes\n", None),
    ],
)
def test_a_wrong_row_is_refused_at_its_line(code: str, rows: str, line: int | None) -> None:
    with pytest.raises(InputError) as caught:
        read(rows)
    assert (caught.value.code, caught.value.line) == (code, line)
    assert caught.value.field is not None
    assert caught.value.field.startswith("test")


@pytest.mark.parametrize(
    ("code", "sidecar"),
    [
        ("catalogue_sidecar_unreadable", "title = "),
        ("catalogue_sidecar_incomplete", SIDECAR.replace('title = "Test pipe"', "")),
        ("catalogue_sidecar_entry", 'colour = "red"\n' + SIDECAR),
        ("catalogue_sidecar_entry", SIDECAR.replace("min = 10", "minimum = 10")),
        ("catalogue_mark_unknown", SIDECAR.replace('"read"', '"seen"')),
        ("catalogue_column_absent", SIDECAR.replace('key = ["size"]', 'key = ["width"]')),
    ],
)
def test_a_wrong_description_is_refused(code: str, sidecar: str) -> None:
    with pytest.raises(InputError) as caught:
        read(sidecar=sidecar)
    assert caught.value.code == code


def test_only_listed_texts_may_stand_in_a_column_of_choices() -> None:
    sidecar = SIDECAR.replace(
        'size = { is = "size", kind = "text" }', 'size = { is = "s", kind = "text", choices = ["1 in"] }'
    )
    with pytest.raises(InputError, match="catalogue_cell_not_a_choice"):
        read(sidecar=sidecar)


@pytest.mark.parametrize(
    ("code", "row"),
    [
        ("catalogue_range_out_of_order", "hole,2,1,3,mm"),
        ("catalogue_unit_unknown", "hole,1,2,3,furlong"),
    ],
)
def test_a_wrong_range_is_refused(code: str, row: str) -> None:
    with pytest.raises(InputError) as caught:
        read(f"what,low,likely,high,unit\n{row}\n", RANGED)
    assert (caught.value.code, caught.value.line) == (code, 2)


def test_rows_are_found_by_their_values_or_the_table_says_what_it_has() -> None:
    rams = table("shop_rams")
    assert rams.row(size="1 in", valve="any", quantity="bore").figure.likely == pytest.approx(0.0266)
    assert len(rams.where(size="1 in", valve="any")) == 10
    with pytest.raises(InputError) as several:
        rams.row("1 in")
    assert several.value.code == "catalogue_row_unclear"
    with pytest.raises(InputError) as none:
        rams.row("5 in")
    assert none.value.code == "catalogue_row_unknown"
    assert "4 in" in none.value.details["known"]  # type: ignore[operator]
    with pytest.raises(InputError, match="catalogue_column_unknown"):
        rams.rows[0].number("width")
    with pytest.raises(InputError, match="catalogue_no_number"):
        rams.rows[0].number("size")


def test_an_unknown_table_is_answered_with_the_closest() -> None:
    with pytest.raises(InputError) as caught:
        table("fiting")
    assert caught.value.details["closest"][0] == "fittings"  # type: ignore[index]


def test_a_table_is_read_once() -> None:
    assert table("joints") is table("joints")
    row: Row = table("joints").rows[0]
    assert row.line == 2


def test_importing_reads_no_table_and_no_numpy() -> None:
    code = (
        "import sys, ramwright.catalogue.loader as loader\n"
        "import ramwright.catalogue\n"
        "assert loader.table.cache_info().currsize == 0\n"
        "assert not {'numpy', 'scipy', 'numba', 'fluids', 'pydantic'} & set(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_every_data_file_has_its_description_beside_it() -> None:
    rows = {path.stem for path in DATA.glob("*.csv")}
    about = {path.stem for path in DATA.glob("*.toml")}
    assert about - rows == {"sources"}
    assert rows <= about
