"""From a site to a prediction and verdicts: the only translator between the sheet and the engine."""

from ramwright.appraise.appraisal import Appraisal, appraise
from ramwright.appraise.assume import Assumption
from ramwright.appraise.installation import Installation, install
from ramwright.appraise.prediction import Prediction, Progress, Range, predict
from ramwright.appraise.setting import Setting, choose_setting
from ramwright.appraise.system import Builder, Draw, builder, middle
from ramwright.appraise.verdicts import Verdict, judge

__all__ = [
    "Appraisal",
    "Assumption",
    "Builder",
    "Draw",
    "Installation",
    "Prediction",
    "Progress",
    "Range",
    "Setting",
    "Verdict",
    "appraise",
    "builder",
    "choose_setting",
    "install",
    "judge",
    "middle",
    "predict",
]
