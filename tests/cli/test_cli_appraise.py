"""``ramwright appraise``: what it prints where, and every way a sheet can be unusable, said in a sentence."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from ramwright import cli

EXAMPLES = Path(__file__).parents[2] / "examples"
ALDER = (EXAMPLES / "alder-fork.toml").read_text("utf-8")
FEW = ["--draws", "20"]
Capture = pytest.CaptureFixture[str]


def changed(old: str, new: str) -> bytes:
    assert ALDER.count(old) == 1, old
    return ALDER.replace(old, new).encode("utf-8")


def line_of(text: str) -> str:
    """``line 12, `` for the line of the example on which ``text`` stands."""
    return f"line {ALDER[: ALDER.index(text)].count(chr(10)) + 1}, "


FALL, LIFT, FLOW = '"6 ft 1 in ± 1 in"', '"45 ft ± 1 ft"', '"14 gal/min ± 6 %"'
BAD: dict[str, tuple[bytes, str]] = {
    "unknown entry": (
        changed("fall = ", "fal = "),
        line_of("fall = ") + r'facts.fal: there is no entry "fal" here\. Did you mean "fall"\?',
    ),
    "entry of another section": (
        changed("units =", "stroke ="),
        line_of("units =") + r"site.stroke: there is no entry .* another section: ram.waste_valve.stroke",
    ),
    "no unit": (
        changed(FALL, '"6.1"'),
        line_of(FALL) + r'facts.fall: "6\.1" has no unit\. Say what it was measured in',
    ),
    "wrong kind of unit": (changed(FLOW, '"14 ft"'), line_of(FLOW) + r"facts.source_flow: .*14 ft"),
    "no quotes": (changed(FALL, "6 ft"), line_of(FALL) + r'.*has no quotes.*"6 ft"'),
    "negative flow": (changed(FLOW, '"-14 gal/min"'), line_of(FLOW) + r"facts.source_flow: .*-14 gal/min"),
    "no flow at all": (changed(FLOW, '"0 gal/min"'), line_of(FLOW) + r"facts.source_flow: .*0 gal/min"),
    "lift below fall": (
        changed(LIFT, '"5 ft"'),
        line_of(LIFT) + r'facts.lift: the lift of "5 ft" is not above the fall of "6 ft 1 in ± 1 in"\.',
    ),
    "not a number": (changed(FALL, "nan"), line_of(FALL) + "facts.fall: "),
    "not a number, in quotes": (changed(FALL, '"nan ft"'), line_of(FALL) + "facts.fall: .*nan ft"),
    "endless": (changed(LIFT, '"1e999 ft"'), line_of(LIFT) + "facts.lift: .*1e999 ft"),
    "beyond all bounds": (changed(LIFT, '"45 miles"'), line_of(LIFT) + "facts.lift: .*45 miles"),
    "a word that is none of the choices": (
        changed('kind = "drum"', 'kind = "bathtub"'),
        line_of('kind = "drum"') + r'drive_tank.kind: "bathtub" is not one of .*[Cc]hoose one of: drum',
    ),
    "unknown pipe": (
        changed("PVC schedule 40, 3/4 in", "mithril schedule 40, 3/4 in"),
        line_of('pipe = "PVC schedule 40, 3/4 in') + r"delivery_line\[0\]\.pipe: .*mithril",
    ),
    "no drive pipe": (
        changed("[[drive_pipe]]", "[[delivery_line]]"),
        r"drive_pipe: there is no pipe here yet\. Write \[\[drive_pipe\]\]",
    ),
    "no lift": (
        changed("lift = ", "#lift = ").replace(b'end = "tank, inlet"', b'end = "big alder"'),
        line_of("[facts]") + r"facts: these have not been measured yet: lift\.",
    ),
    "material left out": (
        changed('pipe = "PVC schedule 40, 3/4 in"', 'bore = "0.8 in"'),
        line_of("[[delivery_line]]") + r"delivery_line\[0\]\.material: .*needs its material",
    ),
    "rougher than wide": (
        changed('pipe = "PVC schedule 40, 3/4 in"', 'bore = "10 mm"\nmaterial = "steel"\nroughness = "2 mm"'),
        r"line \d+, delivery_line\[0\]\.roughness: 2 mm is rougher than a bore of 0\.394 in",
    ),
    "more stretches than the engine takes": (
        changed(
            "[drive_pipe_support]",
            '[[drive_pipe]]\npipe="PVC schedule 40, 1 in"\nlength="1 ft"\n' * 9 + "[drive_pipe_support]",
        ),
        line_of("[[drive_pipe]]") + "drive_pipe: there are 10 stretches",
    ),
    "a valve without any loss": (
        changed('"4 ± 1.5"', '"0"'),
        line_of('"4 ± 1.5"') + r"ram\.delivery_valve\.loss: 0 is not above zero",
    ),
    "empty": (b"", "has nothing in it"),
    "only blanks": (b" \n\t\n", "has nothing in it"),
    "not a sheet at all": (b"\x89PNG\r\n\x1a\n\x00\x00", "not UTF-8"),
    "prose": (b"The ram stands below the second riffle.\n", "line 1: "),
    "latin-1": (ALDER.encode("latin-1", "replace"), "not UTF-8.*save the file as UTF-8|not UTF-8.*Save"),
    "utf-16": (ALDER.encode("utf-16"), "saved as UTF-16"),
    "fifty megabytes": (b"# " + b"x" * 50_000_000, "larger than 1000 kB"),
    "a later sheet": (changed("schema_version = 1", "schema_version = 7"), "line 4, schema_version: "),
}


def unusable(arguments: list[str], capsys: Capture) -> str:
    """Run a command that must be refused; what it said, on one line."""
    status = cli.run(arguments)
    said = capsys.readouterr()
    assert (status, said.out) == (2, "")
    assert "Traceback" not in said.err
    assert "Sorry" not in said.err
    return " ".join(said.err.split())


@pytest.mark.parametrize("more", [[], ["--json"]], ids=["text", "json"])
@pytest.mark.parametrize("name", BAD)
def test_a_bad_sheet_is_told_by_line_field_value_and_what_to_do(
    name: str, more: list[str], tmp_path: Path, capsys: Capture
) -> None:
    content, expected = BAD[name]
    sheet = tmp_path / "site.toml"
    sheet.write_bytes(content)
    said = unusable(["appraise", str(sheet), *FEW, *more], capsys)
    assert re.search(expected, said), said
    assert said.count(". ") >= 1, "what to do is missing"
    assert len(said) < 1500
    assert sheet.read_bytes() == content
    assert os.listdir(tmp_path) == ["site.toml"]


def test_every_mistake_is_told_at_once(tmp_path: Path, capsys: Capture) -> None:
    sheet = tmp_path / "site.toml"
    text = (
        ALDER.replace(FALL, '"6.1"').replace(FLOW, '"-1 gal/min"').replace('kind = "drum"', 'kind = "pail"')
    )
    sheet.write_text(text, encoding="utf-8")
    said = unusable(["appraise", str(sheet)], capsys)
    for field in ("facts.fall", "facts.source_flow", "drive_tank.kind"):
        assert field in said


def test_a_folder_and_a_file_that_is_not_there(tmp_path: Path, capsys: Capture) -> None:
    assert "cannot be read" in unusable(["appraise", str(tmp_path)], capsys)
    assert "there is no file" in unusable(["appraise", str(tmp_path / "none.toml")], capsys).lower()
    assert os.listdir(tmp_path) == []


@pytest.mark.parametrize("draws", ["0", "9", "-5", "many", "1e9"])
def test_a_count_of_draws_that_makes_no_sense(draws: str, capsys: Capture) -> None:
    assert "--draws" in unusable(["appraise", str(EXAMPLES / "alder-fork.toml"), "--draws", draws], capsys)


def test_a_property_of_water_beyond_its_source_is_a_sentence(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sheet's own range is as wide as the sources', so the relation is asked for warmer water here."""
    from ramwright.appraise import installation
    from ramwright.hydraulics.water import water_at

    monkeypatch.setattr(
        installation, "water_at", lambda _, *, altitude_m: water_at(60.0, altitude_m=altitude_m)
    )
    said = unusable(["appraise", str(EXAMPLES / "alder-fork.toml")], capsys)
    assert "hydraulics_" not in said
    assert "60" in said
    assert "40" in said


@pytest.mark.engine
@pytest.mark.parametrize("name", ["alder-fork", "hoher-grund"])
def test_json_is_alone_on_standard_output_and_the_same_in_any_units(name: str, capsys: Capture) -> None:
    found = []
    for units in ("us", "metric"):
        assert cli.run(["appraise", str(EXAMPLES / f"{name}.toml"), *FEW, "--json", "--units", units]) == 0
        said = capsys.readouterr()
        assert said.err == ""
        one = json.loads(said.out, parse_constant=lambda text: pytest.fail(f"{text} is no JSON"))
        for verdict in one["verdicts"]:
            del verdict["title"], verdict["why"], verdict["do"]
        found.append(one)
    assert found[0] == found[1]


@pytest.mark.engine
def test_the_same_sheet_gives_the_same_bytes(capsys: Capture) -> None:
    arguments = ["appraise", str(EXAMPLES / "alder-fork.toml"), *FEW, "--json"]
    said = []
    for _ in range(2):
        assert cli.run(arguments) == 0
        said.append(capsys.readouterr().out)
    assert said[0] == said[1]


@pytest.mark.engine
@pytest.mark.parametrize(
    ("arguments", "unit"),
    [([], "gal/day"), (["--units", "metric"], "L/day"), (["--units", "us"], "gal/day")],
)
def test_units_are_the_sheets_unless_others_are_asked_for(
    arguments: list[str], unit: str, capsys: Capture
) -> None:
    assert cli.run(["appraise", str(EXAMPLES / "alder-fork.toml"), *FEW, *arguments]) == 0
    row = next(x for x in capsys.readouterr().out.splitlines() if x.startswith("  Water to the tank  "))
    assert row.endswith(f"  {unit}")


@pytest.mark.engine
@pytest.mark.parametrize("more", [[], ["--json"]], ids=["text", "json"])
def test_a_word_taken_for_ours_is_told_beside_the_answer(
    more: list[str], tmp_path: Path, capsys: Capture
) -> None:
    sheet = tmp_path / "site.toml"
    sheet.write_bytes(changed("[air_vessel]", "[air_chamber]"))
    assert cli.run(["appraise", str(sheet), *FEW, *more]) == 0
    said = capsys.readouterr()
    assert said.err.startswith(line_of("[air_vessel]"))
    assert '"air_chamber" was taken for' in said.err
    assert "air_chamber" not in said.out
    assert os.listdir(tmp_path) == ["site.toml"]


@pytest.mark.engine
def test_nothing_is_shown_of_a_bar_where_nobody_watches(capsys: Capture) -> None:
    assert cli.run(["appraise", str(EXAMPLES / "alder-fork.toml"), "--draws", "400"]) == 0
    assert capsys.readouterr().err == ""


@pytest.mark.engine
def test_stopped_by_the_progress_is_130_at_once(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    from ramwright.cli import progress

    told: list[int] = []

    def stop(_: progress.Bar, done: int, of: int) -> bool:
        told.append(done)
        raise KeyboardInterrupt

    monkeypatch.setattr(progress.Bar, "step", stop)
    assert cli.run(["appraise", str(EXAMPLES / "alder-fork.toml"), "--draws", "20000"]) == 130
    assert told == [8]
    assert capsys.readouterr().out == ""


STOPPABLE = """
import sys
from ramwright import cli
from ramwright.cli.progress import Bar
told = []
def step(self, done, of):
    if not told:
        told.append(done)
        print("running", file=sys.stderr, flush=True)
    return True
Bar.step = step
sys.exit(cli.run(sys.argv[1:]))
"""


@pytest.mark.engine
def test_control_c_ends_it_within_a_few_seconds() -> None:
    """20 000 draws take far longer than that; the runs still waiting are dropped."""
    arguments = ["appraise", str(EXAMPLES / "alder-fork.toml"), "--draws", "20000"]
    with subprocess.Popen(
        [sys.executable, "-c", STOPPABLE, *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as running:
        assert running.stderr is not None
        assert running.stdout is not None
        while running.stderr.readline() not in ("running\n", ""):
            pass
        time.sleep(0.2)
        sent = time.monotonic()
        running.send_signal(signal.SIGINT)
        assert running.wait(timeout=60) == 130
        assert time.monotonic() - sent < 10.0
        assert (running.stdout.read(), running.stderr.read()) == ("", "")
