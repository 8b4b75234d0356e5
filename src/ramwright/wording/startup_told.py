"""A start told in plain text: numbered steps, what to mind, in the reader's units and language."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterable, Iterator, Mapping
from typing import Final, cast

from ramwright.appraise import Range
from ramwright.quantities import Kind, System, choose_unit, from_si, show
from ramwright.startup import Method, Minding, StartPlan, Step
from ramwright.wording.blanks import CHANCE, blanks, chance, fill
from ramwright.wording.outcomes import OUTCOMES as ENGINE
from ramwright.wording.startup import (
    ARRIVES,
    HEADINGS,
    METHODS,
    MINDING,
    ONE_PRESS,
    OUTCOMES,
    PRESSES,
    RESTS_ON,
    SHARE,
    SPAN,
    STEPS,
    WHY,
)
from ramwright.wording.translate import translate
from ramwright.wording.units import shown_in, unit_word

_WIDTH: Final = 88
_BADGE: Final = {"stop": "[X]", "caution": "[!]", "note": "[i]"}
_CAUTIONS: Final = frozenset({"trapped_pressure", "hands_clear", "vent_first"})
_GAUGE: Final[Mapping[System, str]] = {"us": "psi", "metric": "bar"}
_DIGITS: Final = 2


def span(
    found: Range, kind: Kind, system: System, language: str | None = None, *, unit: str | None = None
) -> str:
    """A range in words: the likely value, low and high in brackets, to the place the spread allows."""
    symbol = unit or choose_unit(max(abs(found.low), abs(found.high)), kind, system)
    low, likely, high = (from_si(v, symbol, kind) for v in (found.low, found.likely, found.high))
    symbol = unit_word(symbol, language)
    size = max(map(abs, (low, likely, high)))
    if size == 0.0:
        return f"0 {symbol}".rstrip()
    digit = math.floor(math.log10(size))
    wide = high - low
    place = math.floor(math.log10(wide / 2.6)) if wide > 0.02 * size else digit - _DIGITS + 1
    texts = [_to_place(v, place) for v in (low, likely, high)]
    if texts[0] == texts[2]:
        return f"{texts[1]} {symbol}".rstrip()
    return _spread(f"{texts[1]} {symbol}".rstrip(), texts[0], texts[2], language)


def _spread(likely: str, low: str, high: str, language: str | None) -> str:
    return fill(translate(SPAN, language), {"likely": likely, "low": low, "high": high}, "us")


def _to_place(value: float, place: int) -> str:
    step = 10.0**place
    return f"{round(value / step) * step + 0.0:.{max(-place, 0)}f}".replace("-", "−")


def say(template: str, numbers: Mapping[str, object], system: System, language: str | None = None) -> str:
    """``template`` translated and filled: spreads whole, ``..._gauge`` as the gauge reads, two digits."""
    words = translate(template, language)
    told: dict[str, object] = {}
    for name, kind in blanks(words).items():
        told[name] = _shown(name, kind, numbers, system, language)
    return fill(words, told, system, language)


def _shown(
    name: str, kind: str, numbers: Mapping[str, object], system: System, language: str | None
) -> object:
    if name == "presses" and "presses_low" in numbers:
        return told_presses(_range(numbers, name), system, language)
    if name == "air" and "presses" in numbers:
        count = cast(float, numbers["presses"])
        return told_presses(Range(count, count, count), system, language)
    if name.endswith("_gauge"):
        base, unit = name.removesuffix("_gauge"), _GAUGE[system]
        if f"{base}_low" in numbers:
            return span(_range(numbers, base), "head", system, language, unit=unit)
        return show(cast(float, numbers[base]), "head", system, unit=unit, digits=_DIGITS)
    if f"{name}_low" in numbers:
        return span(_range(numbers, name), cast(Kind, kind or "number"), system, language)
    value = numbers.get(name, "?")
    if isinstance(value, tuple):
        return ", ".join(show(v, cast(Kind, kind), system, digits=3) for v in value)
    if isinstance(value, str) and value in METHODS:
        return translate(METHODS[value], language)
    if not isinstance(value, float | int):
        return value
    if isinstance(value, int):
        return value
    if kind == CHANCE:
        return chance(float(value), language)
    if not math.isfinite(value):
        return "∞"
    digits = 3 if kind == "length" else _DIGITS
    return shown_in(float(value), cast(Kind, kind or "number"), system, language, digits=digits)


def _range(numbers: Mapping[str, object], name: str) -> Range:
    return Range(*(cast(float, numbers[f"{name}_{end}"]) for end in ("low", "likely", "high")))


def told_presses(count: Range, system: System, language: str | None = None) -> str:
    """A number of presses in words."""
    if count.low == count.high == 1.0:
        return translate(ONE_PRESS, language)
    texts = [f"{value:.0f}" for value in (count.low, count.likely, count.high)]
    whole = texts[1] if texts[0] == texts[2] else _spread(texts[1], texts[0], texts[2], language)
    return fill(translate(PRESSES, language), {"count": whole}, system)


def told_step(step: Step, system: System, language: str | None = None) -> str:
    """One step in words."""
    return say(STEPS[step.code], step.numbers, system, language)


def told_minding(minding: Minding, system: System, language: str | None = None) -> tuple[str, str]:
    """One thing to mind in words: title, and why with what to do."""
    title, why = MINDING[minding.code]
    return say(title, minding.numbers, system, language), say(why, minding.numbers, system, language)


def told_method(method: Method, system: System, language: str | None = None) -> tuple[str, str]:
    """One way of priming in words: what is done, and why it works here or not."""
    return (
        translate(METHODS[method.code], language),
        say(WHY[method.why], cast(Mapping[str, object], method.numbers), system, language),
    )


def tell_start(plan: StartPlan, place: str, system: System, language: str | None = None) -> str:
    """The whole start of the ram at ``place`` as plain text."""
    blocks = (
        _head(plan, place, system, language),
        _steps(plan, system, language),
        _minding(plan, system, language, cautions=False),
        _minding(plan, system, language, cautions=True),
        _priming(plan, system, language),
        _known(plan, system, language),
    )
    return "\n\n".join("\n".join(block) for block in map(list, blocks) if block) + "\n"


def _wrapped(text: str, first: str = "", indent: str | None = None) -> Iterable[str]:
    below = first if indent is None else indent
    return textwrap.wrap(text, _WIDTH, initial_indent=first, subsequent_indent=below)


def _heading(name: str, language: str | None) -> str:
    heading = translate(HEADINGS[name], language)
    return f"{heading}\n{'-' * len(heading)}"


def _head(plan: StartPlan, place: str, system: System, language: str | None) -> Iterator[str]:
    name = " ".join("".join(c if c.isprintable() else " " for c in place).split())
    title = fill(translate(HEADINGS["title"], language), {"place": name}, system)
    yield title
    yield "=" * len(title)
    numbers: dict[str, object] = {}
    if plan.presses is not None and plan.presses.count is not None:
        count = plan.presses.count
        numbers = {"presses_low": count.low, "presses_likely": count.likely, "presses_high": count.high}
    told = [say(OUTCOMES[plan.outcome], numbers, system, language)]
    if plan.outcome in ("hand_presses", "throttle") and plan.climb is not None:
        s = plan.climb.seconds
        told.append(
            say(ARRIVES, {"seconds_low": s.low, "seconds_likely": s.likely, "seconds_high": s.high},
                system, language)
        )  # fmt: skip
    told.append(say(SHARE, {"share": plan.runs, "draws": plan.draws}, system, language))
    yield from _wrapped(" ".join(told))
    if plan.outcome in ENGINE:
        yield from _wrapped(translate(ENGINE[plan.outcome][1], language))


def _steps(plan: StartPlan, system: System, language: str | None) -> Iterator[str]:
    yield _heading("steps", language)
    for number, step in enumerate(plan.steps, 1):
        yield from _wrapped(told_step(step, system, language), f"{number:3d}. ", "     ")


def _minding(plan: StartPlan, system: System, language: str | None, *, cautions: bool) -> Iterator[str]:
    found = [m for m in plan.minding if (m.code in _CAUTIONS) == cautions]
    if not found:
        return
    yield _heading("cautions" if cautions else "mind", language)
    for minding in found:
        title, why = told_minding(minding, system, language)
        yield f"  {_BADGE[minding.grade]} {title}"
        yield from _wrapped(why, "      ")


def _priming(plan: StartPlan, system: System, language: str | None) -> Iterator[str]:
    if plan.priming is None or not plan.priming.methods:
        return
    yield _heading("priming", language)
    for method in plan.priming.methods:
        does, why = told_method(method, system, language)
        yield from _wrapped(f"{does[:1].upper()}{does[1:]} {why[:1].upper()}{why[1:]}.", "  - ", "    ")


def _known(plan: StartPlan, system: System, language: str | None) -> Iterator[str]:  # noqa: ARG001
    yield _heading("known", language)
    yield from _wrapped(translate(RESTS_ON, language), "  ")
