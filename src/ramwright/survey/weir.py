"""Thin-plate weirs: the relations between head and flow, one small function each.

General libraries were tried and not used: one lacks the factor (8/15) sqrt 2 in its V-notch relation (33 %
high at 90 degrees) and adds 0.1 mm where the Kindsvater-Carter relation has 1 mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ramwright.errors import InputError, LimitError
from ramwright.survey._checks import between, column, not_negative, positive, rising
from ramwright.survey.level_water import STANDARD_GRAVITY

_FOOT = 0.3048


@dataclass(frozen=True, slots=True)
class NotchCoefficients:
    """``discharge`` coefficient, no unit, and ``head_correction`` kh, m."""

    discharge: float
    head_correction: float


@dataclass(frozen=True, slots=True)
class ContractionTable:
    """Kindsvater-Carter coefficients by crest length over channel width, columns of one length.

    ``ratios`` b/B rising; Ce = ``intercepts`` + ``slopes`` x h/p; ``width_corrections`` kb, m.
    """

    ratios: tuple[float, ...]
    intercepts: tuple[float, ...]
    slopes: tuple[float, ...]
    width_corrections: tuple[float, ...]

    def __post_init__(self) -> None:
        ratios = column("ratios", self.ratios, least=2)
        rising("ratios", ratios)
        for name in ("intercepts", "slopes", "width_corrections"):
            if column(name, getattr(self, name)).size != ratios.size:
                raise InputError(
                    "survey_columns_differ", field=name, value=len(getattr(self, name)), other=ratios.size
                )


def notch_coefficients(angle: float) -> NotchCoefficients:
    """Coefficients of a fully contracted V-notch, ``angle`` in rad from 20 to 100 degrees.

    Ce = 0.607165 - 8.74467e-4 t + 6.10393e-6 t^2 and kh[ft] = 0.0144903 - 3.39555e-4 t + 3.29819e-6 t^2 -
    1.06215e-8 t^3, t the angle in degrees: fits to the curves of Kindsvater and Shen (Shen 1981, USGS
    Water-Supply Paper 1617-B; ISO 1438 figures). The fits are from memory and were seen in public code; the
    curves themselves were not read. At 90 degrees Ce 0.578, kh 0.88 mm. Raises ``LimitError`` outside the
    range ISO 1438:2017 states (contents page read).
    """
    degrees = math.degrees(positive("angle", angle))
    if not 20.0 - 1e-9 <= degrees <= 100.0 + 1e-9:
        raise LimitError("survey_beyond_source", field="angle", value=degrees, low=20.0, high=100.0)
    ce = 0.607165052 - 8.74466963e-4 * degrees + 6.10393334e-6 * degrees**2
    kh = 0.0144902648 - 3.3955535e-4 * degrees + 3.29819003e-6 * degrees**2 - 1.06215442e-8 * degrees**3
    return NotchCoefficients(ce, kh * _FOOT)


RIGHT_ANGLE = NotchCoefficients(0.578, 0.00085)
"""Fully contracted 90 degree V-notch: Cd 0.578, kh 0.85 mm. ISO 1438 (from memory)."""


def v_notch_flow(
    head: float, *, angle: float, coefficients: NotchCoefficients, gravity: float = STANDARD_GRAVITY
) -> float:
    """Flow over a V-notch (m3/s): Q = Cd (8/15) sqrt(2 g) tan(angle/2) (h + kh)^2.5.

    ``head`` h m above the bottom of the notch, ``angle`` rad, ``gravity`` m/s2. Kindsvater-Shen form, ISO
    1438 (form and range of angle read; coefficients see ``notch_coefficients``). Raises ``InputError``.
    """
    positive("head", head)
    between("angle", angle, 1e-3, math.pi - 1e-3)
    effective = head + coefficients.head_correction
    shape = (8.0 / 15.0) * math.sqrt(2.0 * gravity) * math.tan(angle / 2.0)
    return float(coefficients.discharge * shape * effective**2.5)


def cone_flow(head: float) -> float:
    """Flow over a 90 degree V-notch (m3/s), ``head`` m: Q[cfs] = 2.49 H[ft]^2.48.

    Cone 1916 (from memory; the SI form 1.343 h^2.48 was read in public weir code). Raises ``InputError``.
    """
    return float(2.49 * (positive("head", head) / _FOOT) ** 2.48 * _FOOT**3)


def francis_flow(head: float, *, length: float, contractions: int) -> float:
    """Flow over a rectangular weir (m3/s): Q[cfs] = 3.33 (L - 0.1 n H) H^1.5, L and H in ft.

    ``head`` m, ``length`` of crest m, ``contractions`` n 0, 1 or 2 ends that stand clear of the channel's
    sides. Good to h/L = 1/3. Francis 1883, as quoted in notes on a storm-water manual's chapter 6 (read).
    Raises ``InputError``, also where the contractions leave no crest.
    """
    positive("head", head)
    positive("length", length)
    if contractions not in {0, 1, 2}:
        raise InputError("survey_out_of_bounds", field="contractions", value=contractions, low=0, high=2)
    effective = positive("length - 0.1 n h", length - 0.1 * contractions * head)
    return float(3.33 * math.sqrt(_FOOT) * effective * head**1.5)


def rehbock_flow(
    head: float, *, width: float, crest_height: float, gravity: float = STANDARD_GRAVITY
) -> float:
    """Flow over a full-width weir (m3/s): Q = (2/3) sqrt 2 (0.602 + 0.0832 h/p) b sqrt g (h + 0.00125)^1.5.

    ``head`` h, ``width`` b of crest and channel, ``crest_height`` p above the channel bed, all m. Stated for
    0.03 < h < 0.75, b > 0.3, p > 0.3, h/p < 1. Rehbock 1929, as a general library states it (read, with its
    range). Raises ``InputError``.
    """
    positive("head", head)
    positive("width", width)
    positive("crest_height", crest_height)
    ce = 0.602 + 0.0832 * head / crest_height
    return float((2.0 / 3.0) * math.sqrt(2.0 * gravity) * ce * width * (head + 0.00125) ** 1.5)


def kindsvater_carter_flow(
    head: float,
    *,
    width: float,
    channel_width: float,
    crest_height: float,
    table: ContractionTable,
    gravity: float = STANDARD_GRAVITY,
) -> float:
    """Flow over a rectangular weir (m3/s): Q = (2/3) Ce sqrt(2 g) (b + kb) (h + 0.001)^1.5.

    ``head`` h, crest ``width`` b, ``channel_width`` B, ``crest_height`` p, all m; Ce = a + a' h/p and kb from
    ``table`` at b/B, straight lines between its rows. Kindsvater & Carter 1957; ISO 1438 and USBR Water
    Measurement Manual chapter 7 section 6 (form read there; the table's marks stand with it). Raises
    ``InputError``; ``LimitError`` for b/B outside the table.
    """
    positive("head", head)
    positive("width", width)
    positive("channel_width", channel_width)
    positive("crest_height", crest_height)
    ratio = width / channel_width
    low, high = table.ratios[0], table.ratios[-1]
    if not low <= ratio <= high + 1e-9:
        raise LimitError(
            "survey_beyond_source", field="width / channel_width", value=ratio, low=low, high=high
        )
    a = float(np.interp(ratio, table.ratios, table.intercepts))
    b = float(np.interp(ratio, table.ratios, table.slopes))
    kb = float(np.interp(ratio, table.ratios, table.width_corrections))
    ce = a + b * head / crest_height
    return float((2.0 / 3.0) * ce * math.sqrt(2.0 * gravity) * (width + kb) * (head + 0.001) ** 1.5)


def submergence_factor(head: float, tailwater: float, *, exponent: float) -> float:
    """What drowning leaves of the free flow, no unit: (1 - (h2/h1)^n)^0.385.

    ``head`` h1 and ``tailwater`` h2 m above the crest (h2 at or below nought: free, 1); ``exponent`` n 1.5
    rectangular, 2.5 V-notch. Villemonte 1947, Engineering News-Record (quoted in several manuals, read).
    Raises ``InputError`` where the tailwater stands as high as the head.
    """
    positive("head", head)
    positive("exponent", exponent)
    if tailwater <= 0.0:
        return 1.0
    if tailwater >= head:
        raise InputError("survey_tailwater_over_head", field="tailwater", value=tailwater, head=head)
    return float((1.0 - (tailwater / head) ** exponent) ** 0.385)


def contraction_margin(width: float, channel_width: float) -> float:
    """Clear channel (m) at each end of a crest of ``width`` m in a channel of ``channel_width`` m.

    Raises ``InputError`` where the crest is wider than the channel.
    """
    positive("width", width)
    return not_negative("channel_width - width", channel_width - width) / 2.0
