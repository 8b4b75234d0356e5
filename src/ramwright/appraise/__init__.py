"""From a site to a prediction and verdicts: the only translator between the sheet and the engine."""

from ramwright.appraise.appraisal import Appraisal, appraise
from ramwright.appraise.assume import Assumption
from ramwright.appraise.book_walk import walk_of
from ramwright.appraise.facts import FactsFound, Reduction, facts_of
from ramwright.appraise.installation import Installation, install
from ramwright.appraise.layout import Layout, lay_out
from ramwright.appraise.prediction import Prediction, Progress, Range, predict
from ramwright.appraise.sensitivity import Decider, decides
from ramwright.appraise.setting import Setting, choose_setting
from ramwright.appraise.system import Builder, Draw, builder, middle
from ramwright.appraise.verdict import Verdict
from ramwright.appraise.verdicts import judge

__all__ = [
    "Appraisal",
    "Assumption",
    "Builder",
    "Decider",
    "Draw",
    "FactsFound",
    "Installation",
    "Layout",
    "Prediction",
    "Progress",
    "Range",
    "Reduction",
    "Setting",
    "Verdict",
    "appraise",
    "builder",
    "choose_setting",
    "decides",
    "facts_of",
    "install",
    "judge",
    "lay_out",
    "middle",
    "predict",
    "walk_of",
]
