"""Fall over stage, and the tailwater that takes it away."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import Judging, StageCurve, StageLevels, stage_curve

JUDGING = Judging(significance=0.05, residual_limit=3.0)
SEAT = Estimate(0.0, 0.005)


def _curve(*tails: float | None, outlet: Estimate | None = None) -> StageCurve:
    """Low, normal and flood water at stages 0.2, 0.5 and 2.0 m; the feed climbs 0.3 m in all."""
    feeds = (3.0, 3.1, 3.3)
    stages = (0.2, 0.5, 2.0)
    names = ("low", "normal", "flood")
    levels = [
        StageLevels(name, stage, Estimate(feed, 0.01), None if tail is None else Estimate(tail, 0.02))
        for name, stage, feed, tail in zip(names, stages, feeds, tails, strict=True)
    ]
    return stage_curve(levels, seat=SEAT, outlet=outlet, judging=JUDGING)


def test_fall_is_to_the_seat_until_tailwater_drowns_the_outlet_and_to_tailwater_after() -> None:
    """Worked by hand: flood tailwater 1.2 m over the seat leaves 3.3 - 1.2 = 2.1 m."""
    curve = _curve(-0.8, -0.6, 1.2)
    low, flood = curve.fall(0.2), curve.fall(2.0)
    assert abs(low.fall.value - 3.0) < 1e-12
    assert not low.drowned
    assert abs(flood.fall.value - 2.1) < 1e-12
    assert flood.drowned
    assert abs(flood.fall.sd - (0.01**2 + 0.02**2) ** 0.5) < 1e-12


def test_the_stage_at_which_the_outlet_drowns() -> None:
    """Tailwater from -0.6 at 0.5 to 1.2 at 2.0 crosses the seat a third of the way: 1.0 (by hand)."""
    curve = _curve(-0.8, -0.6, 1.2)
    drowns_at = curve.drowning_stage()
    assert drowns_at is not None
    assert abs(drowns_at - 1.0) < 1e-12
    codes = [finding.code for finding in curve.findings]
    assert codes == ["outlet_drowns_at", "outlet_drowned"]
    assert _curve(-0.8, -0.6, -0.2).drowning_stage() is None


def test_a_tailwater_known_only_to_lie_below_counts_as_at_the_outlet() -> None:
    curve = _curve(None, None, 1.2)
    assert curve.drowning_stage() == 0.5
    assert not curve.fall(0.3).drowned
    assert curve.fall(0.6).drowned


def test_an_outlet_above_or_below_the_seat() -> None:
    high = _curve(-0.8, 0.1, 1.2, outlet=Estimate(0.2, 0.005))
    assert not high.fall(0.5).drowned
    assert abs(high.fall(0.5).fall.value - 3.1) < 1e-12
    low = _curve(-0.8, -0.1, 1.2, outlet=Estimate(-0.2, 0.005))
    assert low.fall(0.5).drowned
    assert abs(low.fall(0.5).fall.value - 3.1) < 1e-12, "below the seat it takes nothing from the fall"


def test_near_drowning_and_a_fall_that_is_gone_are_called() -> None:
    near = {f.code: f for f in _curve(-0.8, -0.03, 0.0).findings}
    assert "outlet_near_drowning" in near
    gone = [f.code for f in _curve(-0.8, -0.6, 3.4).findings]
    assert "fall_gone" in gone


def test_nothing_is_guessed_outside_the_stages_surveyed() -> None:
    curve = _curve(-0.8, -0.6, 1.2)
    for stage in (0.1, 2.1, float("nan")):
        with pytest.raises(InputError):
            curve.fall(stage)


def test_two_stages_alike_or_one_alone_are_refused() -> None:
    level = StageLevels("low", 0.2, Estimate(3.0, 0.01))
    for levels in ([level], [level, level]):
        with pytest.raises(InputError):
            stage_curve(levels, seat=SEAT, outlet=None, judging=JUDGING)


@given(st.floats(0.2, 1.999), st.floats(-1.0, 3.0), st.floats(-1.0, 3.0), st.floats(-1.0, 3.0))
@settings(deadline=None)
def test_fall_has_no_jump_and_never_exceeds_that_to_the_seat(
    stage: float, low: float, normal: float, flood: float
) -> None:
    curve = _curve(low, normal, flood)
    here, next_to = curve.fall(stage), curve.fall(stage + 1e-6)
    assert abs(here.fall.value - next_to.fall.value) < 1e-4
    assert here.fall.value <= here.feed.value - SEAT.value + 1e-12
