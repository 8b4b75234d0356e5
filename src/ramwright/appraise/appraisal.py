"""One appraisal: the installation put together, its valve set, run over draws, judged."""

from __future__ import annotations

from dataclasses import dataclass

from ramwright.appraise.installation import Installation, install
from ramwright.appraise.layout import Layout, lay_out
from ramwright.appraise.prediction import Prediction, Progress, predict
from ramwright.appraise.setting import Setting, choose_setting
from ramwright.appraise.verdict import Verdict
from ramwright.appraise.verdicts import judge
from ramwright.site import Site


@dataclass(frozen=True, slots=True)
class Appraisal:
    """Everything an appraisal comes to; ``setting`` is None where the sheet fixed the waste valve."""

    site: Site
    installation: Installation
    setting: Setting | None
    prediction: Prediction
    layout: Layout
    verdicts: tuple[Verdict, ...]


def appraise(site: Site, *, draws: int = 300, progress: Progress | None = None) -> Appraisal:
    """Will a ram run here, how much water will it lift, and why.

    Raises ``InputError`` naming what is missing from the site, ``StoppedError`` if ``progress`` says no.
    """
    installation, setting = choose_setting(install(site))
    prediction = predict(installation, draws=draws, progress=progress)
    layout = lay_out(site, installation, prediction)
    verdicts = judge(installation, prediction, setting, layout)
    return Appraisal(site, installation, setting, prediction, layout, verdicts)
