"""The page of worked examples: each appraised, its figures filled into ``worked_examples.md``.

Run as a script it writes ``docs/worked-examples.md`` anew. What ramwright says stands in bold.
"""

from __future__ import annotations

import math
import re
import tomllib
from pathlib import Path
from typing import Any, Final

from appraise_sheets import REFERENCE

from ramwright.appraise import Prediction, appraise
from ramwright.site import Site, site_from_entries
from ramwright.startup import plan_start

PAGE: Final = Path(__file__).parents[2] / "docs" / "worked-examples.md"
TEMPLATE: Final = Path(__file__).with_suffix(".md")
MADE_BY: Final = "<!-- Made by: python tests/appraise/worked_examples.py -->\n"
OWN: Final = re.compile(r"\*\*(\d[\d.]*)\*\*")
"""A number of ramwright's on the page."""
DRAWS: Final = 120
STARTS: Final = 25
_FOOT: Final = 0.3048
Figures = dict[str, Any]


def reference() -> Figures:
    """What the sources say."""
    found: Figures = tomllib.loads((REFERENCE / "worked_examples.toml").read_text("utf-8"))
    return found


def sheet(
    *, fall: str, lift: str, flow: str, size: str, drive: str, delivery: tuple[str, str], rams: int = 1
) -> Site:
    """A sheet with what a source says, each reading known to 1 %, and the rest left to the program."""
    return site_from_entries(
        {
            "schema_version": 1,
            "site": {"name": "Worked example", "altitude": "0 m", "water_temperature": "15 C"},
            "facts": {"fall": f"{fall} ± 1 %", "lift": f"{lift} ± 1 %", "source_flow": f"{flow} ± 1 %"},
            "drive_pipe": [{"pipe": f"steel schedule 40, {size}", "length": drive}],
            "delivery_line": [{"pipe": delivery[0], "length": delivery[1]}],
            "ram": {"size": size, "count": rams},
        }
    )


def own(value: float) -> str:
    """A number of ramwright's, to two digits."""
    if value == 0.0:
        return "**0**"
    place = math.floor(math.log10(abs(value))) - 1
    return f"**{round(value / 10.0**place) * 10.0**place:.{max(-place, 0)}f}**"


def chance(prediction: Prediction) -> str:
    """So many in ten."""
    return f"**{10.0 * prediction.runs:.0f}** in 10"


def efficiencies(prediction: Prediction) -> list[str]:
    """Likely D'Aubuisson and Rankine."""
    found = (prediction.efficiency_daubuisson, prediction.efficiency_rankine)
    return [f"{own(100.0 * each.likely)} %" for each in found if each is not None]


def done(site: Site) -> Prediction:
    """The prediction of a sheet."""
    return appraise(site, draws=DRAWS).prediction


def row(*cells: str) -> str:
    """A line of a table."""
    return f"| {' | '.join(cells)} |"


def village(given: Figures) -> list[str]:
    """USAID's village, at its lift and at the one its example goes on with."""
    rows = []
    for lift, formula in (("lift_m", "derived_l_day_at_23"), ("table_lift_m", "derived_l_day_at_80")):
        found = done(
            sheet(
                fall=f"{given['fall_m']} m",
                lift=f"{given[lift]} m",
                flow=f"{given['spring_l_day']} L/day",
                size="1 in",
                drive=f"{given['drive_pipe_m']} m",
                delivery=("PE100 SDR 11, 32 mm", f"{given['delivery_line_m']} m"),
            )
        )
        litres = own(86.4e6 * found.delivery.likely)
        rows.append(row(f"{given[lift]:g} m", f"{given[formula]:,} L/day", chance(found), f"{litres} L/day"))
    return rows


def pocketbook(given: Figures) -> list[str]:
    """The Pocketbook's ratios, a ram sipping and a ram drinking all it can."""
    rows = []
    for ratio, percent in zip(given["ratio"], given["efficiency_pct"], strict=True):
        law = 100.0 * (given["eytelwein_constant"] - given["eytelwein_slope"] * math.sqrt(ratio))
        cells = []
        for gallons in (25, 40):
            found = done(
                sheet(
                    fall="10 ft",
                    lift=f"{10 * ratio} ft",
                    flow=f"{gallons} gal/min",
                    size="2 in",
                    drive="40 ft",
                    delivery=("PE100 SDR 11, 40 mm", f"{max(100, 12 * ratio)} ft"),
                )
            )
            cells += efficiencies(found)
        rows.append(row(str(ratio), f"{percent} %", f"{law:.0f} %", *cells))
    return rows


def laboratory(given: Figures) -> list[str]:
    """The 51 mm ram under three falls."""
    rows = []
    for fall in given["falls_m"]:
        found = done(
            sheet(
                fall=f"{fall} m",
                lift=f"{fall * given['lift_over_fall']} m",
                flow="3 L/s",
                size="2 in",
                drive=f"{given['bore_m'] * given['length_over_bore']:.1f} m",
                delivery=("PE100 SDR 11, 40 mm", "20 m"),
            )
        )
        rows.append(row(f"{fall:g} m", chance(found), *efficiencies(found)))
    return rows


def start(given: Figures) -> list[str]:
    """The level from which a ram beats by itself, under four falls."""
    rows = []
    for fall in given["falls_ft"]:
        plan = plan_start(
            sheet(
                fall=f"{fall} ft",
                lift=f"{max(6 * fall, 32)} ft",
                flow="14 gal/min",
                size="1 1/4 in",
                drive=f"{5 * fall} ft",
                delivery=("PE100 SDR 11, 32 mm", "300 ft"),
            ),
            draws=STARTS,
        )
        assert plan.presses is not None
        level = plan.presses.level_alone.likely / _FOOT
        psi = own(level / given["ft_per_psi"])
        rows.append(row(f"{fall} ft", f"{own(level)} ft", f"{psi} psi", own(level / fall)))
    return rows


def exercise(given: Figures) -> list[str]:
    """The exercise's flow shared by several rams."""
    rows = []
    for rams in (4, 5, 6):
        found = done(
            sheet(
                fall=f"{given['fall_m']} m",
                lift=f"{given['lift_m']} m",
                flow=f"{given['drive_l_s']} L/s",
                size="4 in",
                drive="20 m",
                delivery=("PE100 SDR 11, 90 mm", "100 m"),
                rams=rams,
            )
        )
        rows.append(row(str(rams), f"{own(1e3 * found.delivery.likely)} L/s", *efficiencies(found)))
    return rows


def page() -> str:
    """The whole page."""
    given = reference()
    tables = {
        "village": village,
        "pocketbook": pocketbook,
        "laboratory": laboratory,
        "start": start,
        "exercise": exercise,
    }
    rows = {f"{name}_rows": "\n".join(make(given[name])) for name, make in tables.items()}
    length = given["laboratory"]["bore_m"] * given["laboratory"]["length_over_bore"]
    return MADE_BY + TEMPLATE.read_text("utf-8").format(**given, **rows, laboratory_length=length)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
