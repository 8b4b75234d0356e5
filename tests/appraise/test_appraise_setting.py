"""The setting chosen for the waste valve: the most water that the flow on a low day allows."""

from __future__ import annotations

from typing import Any

import pytest
from appraise_sheets import BARE, FULL, sheet

from ramwright.appraise import Setting, appraise, builder, choose_setting, install, middle
from ramwright.catalogue import table
from ramwright.ram import run_one

pytestmark = pytest.mark.engine
TUNE: dict[str, Any] = {"ram": {"waste_valve": {"stroke": "tune"}}}
UNWEIGHED: dict[str, Any] = {"ram": {"waste_valve": {"moving_mass": None}}}


def chosen(base: dict[str, Any] = FULL, **changes: Any) -> tuple[Setting, float]:
    """The setting and what the ram so set delivers with every value at its middle, m3/s."""
    installation, setting = choose_setting(install(sheet(base, **changes)))
    assert setting is not None
    return setting, run_one(builder(installation).system(middle(installation))).delivery


def test_a_valve_the_sheet_fixes_is_left_alone() -> None:
    installation = install(sheet())
    assert choose_setting(installation) == (installation, None)


def test_tune_sets_the_stroke_of_a_valve_that_was_weighed() -> None:
    installation, setting = choose_setting(install(sheet(**TUNE)))
    assert setting is not None
    assert setting.what == "stroke"
    assert installation.valve.stroke.value == setting.value
    assert abs(installation.valve.mass.value - 0.9) < 1e-12


def test_a_valve_of_unknown_weight_gets_its_weight_set() -> None:
    before = install(sheet(**UNWEIGHED))
    installation, setting = choose_setting(before)
    assert setting is not None
    assert setting.what == "weight"
    assert installation.valve.weight.value == setting.value
    assert installation.valve.stroke.value == before.valve.stroke.value == 0.014
    grown = installation.valve.weight.value / before.valve.weight.value
    assert abs(installation.valve.mass.value / before.valve.mass.value - grown) < 1e-12


def test_with_nothing_known_the_weight_is_set_and_the_stroke_is_on_record() -> None:
    installation, setting = choose_setting(install(sheet(BARE)))
    assert setting is not None
    assert setting.what == "weight"
    assert "ram.waste_valve.stroke" in {a.field for a in installation.assumptions}


@pytest.mark.parametrize("source", ["1 L/s ± 5 %", "1.2 L/s ± 2 %", "2 L/s ± 20 %"])
def test_it_drinks_less_than_the_creek_gives_on_a_low_day(source: str) -> None:
    """Low: exceeded nine days in ten, 1.28 standard deviations under the middle (normal tables)."""
    spare = table("appraisal").row("spare_share").number("likely")
    for changes in (TUNE, UNWEIGHED):
        facts = {"source_flow": source, "residual_flow": "0.1 L/s"}
        installation = install(sheet(facts=facts, **changes))
        low = installation.source_flow.value - 1.2816 * installation.source_flow.sd - 1e-4
        setting, _ = chosen(facts=facts, **changes)
        assert setting.fits
        assert 0.0 < setting.drive <= low * (1.0 - spare) * (1.0 + 1e-9)


@pytest.mark.parametrize("changes", [TUNE, UNWEIGHED], ids=["stroke", "weight"])
def test_more_water_never_brings_less_to_the_tank(changes: dict[str, Any]) -> None:
    brought = [
        chosen(facts={"source_flow": f"{litres} L/s ± 5 %"}, **changes)[1]
        for litres in (0.6, 0.9, 1.3, 1.8, 2.5, 4.0, 8.0)
    ]
    assert brought == sorted(brought)
    assert brought[-1] > 1.5 * brought[0]


def test_where_no_setting_suits_the_flow_it_is_the_one_that_drinks_least() -> None:
    setting, _ = chosen(facts={"source_flow": "0.05 L/s ± 5 %"}, **TUNE)
    assert not setting.fits
    ample, _ = chosen(facts={"source_flow": "3 L/s ± 5 %"}, **TUNE)
    assert setting.drive < ample.drive


def test_a_stroke_is_never_longer_than_the_port_is_wide() -> None:
    setting, _ = chosen(facts={"source_flow": "100 L/s ± 5 %"}, **TUNE)
    assert setting.value <= 0.050


def test_where_nothing_runs_nothing_is_chosen_and_a_verdict_says_why() -> None:
    site = sheet(facts={"lift": "400 m ± 1 m"}, **TUNE)
    installation = install(site)
    assert choose_setting(installation) == (installation, None)
    found = appraise(site, draws=20)
    assert found.setting is None
    assert found.verdicts[0].grade == "red"
    assert found.verdicts[0].code == "may_lift_beyond"
