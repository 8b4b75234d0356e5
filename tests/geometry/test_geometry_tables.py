"""Tables as spreadsheets write them; broken ones are refused by line; nothing else ever comes out."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.geometry import Measured, Profile
from ramwright.geometry.tables import profile_from_csv, profile_from_rows

EXPECTED = Profile(stations=np.array([0.0, 12.5, 1250.25]), levels=np.array([101.125, 99.0, 88.5]))


@pytest.mark.parametrize(
    "text",
    [
        "0,101.125\n12.5,99\n1250.25,88.5",
        "station,level\n0,101.125\n12.5,99\n1250.25,88.5\n",
        "Chainage [m];Ground level [m]\r\n0;101,125\r\n12,5;99\r\n1250,25;88,5\r\n",
        "dist\televation\n0\t101,125\n12,5\t99,0\n1.250,25\t88,5",
        "level_m|station_m\n101.125|0\n99|12.5\n88.5|1 250.25",
        "sep=;\n0;101.125\n12.5;99\n1250.25;88.5",
        "# walked in the dry season\n\n0,101.125\n\n12.5,99\n#\n1250.25,88.5",
        '"station","level"\n"0","101.125"\n"12.5","99"\n"1,250.25","88.5"',
        "station (km),level (cm)\n0,10112.5\n0.0125,9900\n1.25025,8850",
        "station,level\n0 m,101.125 m\n12.5 m,99 m\n1250.25 m,88.5 m",
        "\ufeffstation,level\n0,101.125\n12.5,99\n1250.25,88.5",
    ],
)
def test_one_line_written_in_many_ways(text: str) -> None:
    """The same three points, by hand, in the habits of several spreadsheets."""
    line = profile_from_csv(text)
    assert np.allclose(line.stations, EXPECTED.stations)
    assert np.allclose(line.levels, EXPECTED.levels)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings_of_spreadsheets(encoding: str) -> None:
    line = profile_from_csv("station,level,label\n0,5,Überlauf\n9,4,".encode(encoding))
    assert line.labels == ("Überlauf", "")


def test_feet_by_heading_and_by_cell() -> None:
    """International foot, 0.3048 m exactly."""
    line = profile_from_csv("Chainage (ft),RL (ft),Remark\n0,100,lip\n32 ft 6 in,99.5,\n")
    assert np.allclose(line.stations, [0.0, 32.5 * 0.3048])
    assert np.allclose(line.levels, [30.48, 99.5 * 0.3048])
    assert line.labels == ("lip", "")
    assert np.allclose(profile_from_csv("0,0\n10,1", unit="ft").stations, [0.0, 3.048])


def test_a_heading_can_say_that_distances_are_level() -> None:
    line = profile_from_csv("Horizontal distance (m),Level (m)\n0,3\n4,0")
    assert np.allclose(line.stations, [0.0, 5.0])
    assert np.allclose(profile_from_csv("0,3\n4,0", measured=Measured.HORIZONTAL).stations, line.stations)


def test_rows_of_numbers_and_of_text() -> None:
    line = profile_from_rows([(0, 5.0, "intake"), ("10 m", "4.5"), (20.0, 4, None)], level_sd=0.01)
    assert np.allclose(line.stations, [0, 10, 20])
    assert line.labels == ("intake", "", "")
    assert line.level_sd == 0.01


@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("", "geometry_file_empty", None),
        ("name,level\na,1", "geometry_heading_missing", 1),
        ("station,level,z\n0,1,1", "geometry_heading_twice", 1),
        ("station,level\n0,1\n\n10", "geometry_row_short", 4),
        ("station,level\n0,1\n10,", "geometry_cell_empty", 3),
        ("0,1\n10,low", "bad_number", 2),
        ("sep=;\n0;1\n10;low", "bad_number", 3),
        ("0,1\n10,1.5 furlong", "unknown_unit", 2),
        ("station (cubits),level\n0,1\n10,1", "geometry_unit_unknown", 1),
        ("0;1,5\n10;2.5", "geometry_decimals_mixed", 2),
        ('"0","1,250"\n"10","1,251"', "geometry_number_ambiguous", 2),
        ("0,1\n10,1\n# dip\n9,1", "geometry_stations_not_rising", 4),
        ("0,1\n5,8", "geometry_steeper_than_upright", 2),
        ("0,1", "geometry_too_few_points", None),
    ],
)
def test_broken_tables_are_refused_with_their_line(text: str, code: str, line: int | None) -> None:
    with pytest.raises(InputError) as caught:
        profile_from_csv(text)
    assert (caught.value.code, caught.value.line) == (code, line)


def test_size_is_capped() -> None:
    with pytest.raises(InputError, match="geometry_file_too_big"):
        profile_from_csv(b"0,1\n" * 100, most_bytes=399)
    with pytest.raises(InputError, match="geometry_too_many_rows"):
        profile_from_csv("\n".join(f"{i},1" for i in range(20_002)))
    with pytest.raises(InputError, match="geometry_too_many_rows"):
        profile_from_rows([(i, 1) for i in range(20_001)])
    with pytest.raises(InputError, match="geometry_not_text"):
        profile_from_csv(b"PK\x03\x04\x00\xff\xfe\x00")


cells = st.one_of(
    st.floats(allow_nan=True).map(str),
    st.text(max_size=12),
    st.sampled_from(["1,5", "1.234,5", "12 ft", '"', "''"]),
)
table_text = st.lists(st.lists(cells, max_size=4), max_size=8).flatmap(
    lambda rows: st.sampled_from([",", ";", "\t", "|"]).map(
        lambda mark: "\n".join(mark.join(row) for row in rows)
    )
)


@given(st.one_of(st.binary(max_size=300), st.text(max_size=300), table_text))
def test_no_file_makes_anything_but_a_profile_or_an_input_error(data: bytes | str) -> None:
    try:
        line = profile_from_csv(data)
    except InputError:
        return
    assert line.stations.size >= 2
    assert np.all(np.isfinite(line.levels))


@given(
    st.lists(
        st.lists(st.one_of(st.none(), st.integers(), st.floats(), st.text(max_size=8)), max_size=4),
        max_size=6,
    )
)
def test_no_rows_make_anything_but_a_profile_or_an_input_error(rows: list[list[object]]) -> None:
    try:
        line = profile_from_rows(rows)
    except InputError:
        return
    assert np.all(np.diff(line.stations) > 0.0)
