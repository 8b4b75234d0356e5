"""Verdicts on what was measured, and on what stays in the creek."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "source_below_rule": Templates(
        "The source is below an old rule",
        "It gives {flow:flow}, less than {times:number} times the {delivery:flow} delivered. The simulated "
        "runs say it is enough; the rule leaves more to spare.",
        "Measure the flow again in the driest weeks.",
    ),
    "lift_over_fall_high": Templates(
        "The lift is very high for this fall",
        "It is {ratio:number} times the fall; handbooks stop at {limit:number}.",
        "Look for more fall, or lift in two steps. Every weakness counts several times here.",
    ),
    "lift_over_fall_doubtful": Templates(
        "The lift is high for this fall",
        "It is {ratio:number} times the fall; beyond {limit:number} practice calls it doubtful.",
        "Look for more fall; expect little water and much wear.",
    ),
    "lift_over_fall_low": Templates(
        "The lift is low for this fall",
        "It is {ratio:number} times the fall; handbooks begin at {limit:number}. A ram wants back pressure "
        "to beat by itself.",
        "If it will not run, hold it back with a valve on the delivery line.",
    ),
    "residual_below_rules": Templates(
        "Little stays in the creek",
        "{residual:flow} is left in it. Rules for this creek would leave {least:flow} to {most:flow}: "
        "{said}.",
        "Ask what is wanted here. The reach between intake and ram runs short day and night.",
    ),
    "residual_rules_disagree": Templates(
        "Rules for what stays in the creek disagree",
        "{residual:flow} is left in it. That meets one rule; the strictest would leave {most:flow}: {said}.",
        "Ask which one counts here.",
    ),
}
"""Sentences by code."""
