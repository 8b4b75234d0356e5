"""Pipe is found by what people write, and never guessed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.catalogue import Pipe, find_pipe, match_pipe, pipes
from ramwright.errors import InputError
from ramwright.wording.errors import sentence


@pytest.mark.parametrize(
    ("written", "name"),
    [
        (("steel schedule 40", "2 in"), "Steel Schedule 40, 2 in"),
        (("steel schedule 40, 2 in",), "Steel Schedule 40, 2 in"),
        (("sch 40 steel", "2"), "Steel Schedule 40, 2 in"),
        (("Sch. 40 galvanized pipe", '2"'), "Steel Schedule 40, 2 in"),
        (("2-inch galvanised steel pipe, sched 40",), "Steel Schedule 40, 2 in"),
        (("ASTM A53 standard weight 1 in",), "Steel Schedule 40, 1 in"),
        (("EN 10255 medium", "DN 50"), "Steel medium, DN 50"),
        (("BS 1387 heavy, 2 in",), "Steel heavy, DN 50"),
        (("PVC sch 40", "1 1/4 in"), "PVC Schedule 40, 1 1/4 in"),
        (("PVC sch 40", '1-1/4"'), "PVC Schedule 40, 1 1/4 in"),
        (("PVC sch 40", "1¼"), "PVC Schedule 40, 1 1/4 in"),
        (("PVC sch 40", "1.25 in"), "PVC Schedule 40, 1 1/4 in"),
        (("PVC sch 40", "½ in"), "PVC Schedule 40, 1/2 in"),
        (("sch40 pvc 2.5in",), "PVC Schedule 40, 2 1/2 in"),
        (("PVC SDR-21 3″",), "PVC SDR 21, 3 in"),
        (("class 200 PVC, 2 in",), "PVC SDR 21, 2 in"),
        (("ASTM D2241 PVC 160 psi 2 in",), "PVC SDR 26, 2 in"),
        (("PE100 SDR 11", "63 mm"), "PE100 SDR 11, 63 mm"),
        (("PE 100 SDR11 63",), "PE100 SDR 11, 63 mm"),
        (("PE100 PN16 dn63",), "PE100 SDR 11, 63 mm"),
        (("PE80 SDR 13,6, 32mm",), "PE80 SDR 13.6, 32 mm"),
        (("MDPE SDR 11", "25 mm"), "PE80 SDR 11, 25 mm"),
        (("uPVC PN 16 110 mm",), "PVC-U PN 16, 110 mm"),
        (("PVC pn10 63mm",), "PVC-U PN 10, 63 mm"),
        (("poly pipe PE4710 SIDR 11.5", "1 in"), "PE4710 SIDR 11.5, 1 in"),
        (("copper type L", "3/4"), "Copper type L, 3/4 in"),
        (("steel-sch-40", "2 in"), "Steel Schedule 40, 2 in"),
    ],
)
def test_spellings(written: tuple[str, ...], name: str) -> None:
    match = match_pipe(*written)
    assert match.pipe.name == name
    assert match.assumed == ()


@pytest.mark.parametrize(
    ("written", "name", "assumed"),
    [
        ("galvanized, 2 in", "Steel Schedule 40, 2 in", "usual_weight"),
        ("galvanised DN 50", "Steel medium, DN 50", "usual_weight"),
        ("HDPE SDR 11, 63 mm", "PE80 SDR 11, 63 mm", "weaker_grade"),
        ("poly SIDR 15, 1 in", "PE3408 SIDR 15, 1 in", "weaker_grade"),
    ],
)
def test_what_is_left_out_is_assumed_on_the_safe_side_and_said(written: str, name: str, assumed: str) -> None:
    match = match_pipe(written)
    assert match.pipe.name == name
    assert match.assumed == (assumed,)


def test_the_grade_taken_is_the_one_that_holds_less() -> None:
    assert find_pipe("HDPE SDR 11, 63 mm").rating_pa < find_pipe("PE100 SDR 11, 63 mm").rating_pa
    assert find_pipe("HDPE SDR 11, 63 mm").id_m == find_pipe("PE100 SDR 11, 63 mm").id_m


def test_black_steel_is_the_same_pipe_with_another_wall_surface() -> None:
    black, zinc = find_pipe("black steel sch 40, 2 in"), find_pipe("galvanized sch 40, 2 in")
    assert (black.material, zinc.material) == ("black-steel", "galvanized-steel")
    assert black.id_m == zinc.id_m


@pytest.mark.parametrize(
    ("code", "written", "says"),
    [
        ("pipe_ambiguous", "poly pipe", "PE100 SDR 7.4/9/11/13.6/17/21/26"),
        ("pipe_ambiguous", "poly pipe, 1 in", "PE4710 SIDR 7/9/11.5/15/19"),
        ("pipe_ambiguous", "PVC, 2 in", "PVC Schedule 40/80"),
        ("pipe_ambiguous", "schedule 40, 2 in", "Steel Schedule 40"),
        ("pipe_ambiguous", "PE PN 16, 63 mm", "PE80 SDR 9"),
        ("pipe_ambiguous", "poly 160 psi 1 in", "PE3408 SIDR 9"),
        ("pipe_unknown", "steel schedule 60, 2 in", "Steel Schedule 40"),
        ("pipe_unknown", "copper PN 16, 63 mm", "Copper type L"),
        ("pipe_word_unknown", "shedule 40 steel, 2 in", "Steel Schedule 40"),
        ("pipe_word_unknown", "bamboo, 2 in", "bamboo"),
        ("pipe_word_unknown", "steel schedule 40, 1/0 in", "1/0"),
        ("pipe_stuff_missing", "2 in", "Steel Schedule 40"),
        ("pipe_stuff_missing", "", "PVC Schedule 40"),
        ("pipe_size_missing", "steel schedule 40", "1 1/4 in"),
        ("pipe_sizes_several", "PVC schedule 40, 2 in, 3 in", "2 1/2 in"),
        ("pipe_size_unknown", "PVC schedule 40, 63 mm", "2 in"),
        ("pipe_size_unknown", "PE100 SDR 11, 2 in", "63 mm"),
        ("pipe_size_unknown", "steel schedule 40, 9 in", "4 in"),
    ],
)
def test_what_is_not_clear_is_refused_with_the_choices(code: str, written: str, says: str) -> None:
    with pytest.raises(InputError) as caught:
        match_pipe(written, field="drive_pipe.pipe")
    assert caught.value.code == code
    assert caught.value.field == "drive_pipe.pipe"
    assert says in sentence(caught.value)


def test_every_pipe_is_found_by_its_own_name_and_its_key() -> None:
    for pipe in pipes():
        assert find_pipe(pipe.name) is pipe
        assert find_pipe(pipe.title, pipe.size) is pipe
        assert find_pipe(pipe.series, pipe.size) is pipe
        assert find_pipe(pipe.name.upper()) is pipe


@given(st.text(alphabet='abcdehilmnoprstvyPVCS 0123456789./-"½¼,', max_size=30))
def test_any_text_gives_a_pipe_or_an_error_of_ours(text: str) -> None:
    found: Pipe | None = None
    said = ""
    try:
        found = find_pipe(text)
    except InputError as error:
        said = sentence(error)
    assert bool(said) != (found is not None)
    assert "{" not in said
