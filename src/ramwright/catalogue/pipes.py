"""Pipe as it is bought: dimensions and rating, found by the words people write."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from ramwright.catalogue.loader import table, table_names
from ramwright.catalogue.provenance import Provenance
from ramwright.catalogue.rows import Row
from ramwright.catalogue.spelling import Size, Spelling, read_spelling
from ramwright.catalogue.units import UNITS
from ramwright.errors import InputError

# A class as sold is the computed rating rounded (128 psi is sold as 125, PN 6.3 as PN 6).
_CLASS_SLACK: Final = 0.06
_LARGEST_BARE_INCHES: Final = 6.0
_NAMES: Final = 4
_UNLIKE: Final = 0.5


@dataclass(frozen=True, slots=True)
class Pipe:
    """One size of one series of pipe.

    Lengths in m: ``nominal_m`` (of metric pipe its outside), ``od_m``, ``id_m``, ``wall_m`` (the least
    wall the standard allows). ``rating_pa`` is its working pressure with plain ends (of steel, with its
    thread) at ``rating_temp_c``; ``thread_factor`` is the share left when the end is threaded, 0 when it
    must not be. ``provenance`` marks the dimensions, ``rating_provenance`` the rating.
    """

    series: str
    title: str
    size: str
    nominal_m: float
    od_m: float
    id_m: float
    wall_m: float
    rating_pa: float
    rating_temp_c: float
    material: str
    standard: str
    thread_factor: float
    provenance: Provenance
    rating_provenance: Provenance

    @property
    def name(self) -> str:
        """Series and size, as it is asked for: ``PVC Schedule 40, 2 in``."""
        return f"{self.title}, {self.size}"


@dataclass(frozen=True, slots=True)
class PipeMatch:
    """A pipe found, and what had to be assumed: ``usual_weight``, ``weaker_grade`` (codes)."""

    pipe: Pipe
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Listed:
    """A pipe with the figures it is looked up by."""

    pipe: Pipe
    series: Row
    inches: float | None
    dn: float


@lru_cache(maxsize=1)
def _listed() -> tuple[_Listed, ...]:
    found = []
    for name in table_names():
        if name.startswith("pipes_"):
            for row in table(name):
                series = table("pipe_series").row(row.text("series"))
                inches = row.number("nps") if "nps" in row.values else None
                dn = row.number("dn")
                pipe = Pipe(
                    series.text("series"),
                    series.text("title"),
                    row.text("size"),
                    dn / 1e3 if inches is None else inches * 0.0254,
                    row.number("od_m"),
                    row.number("id_m"),
                    row.number("wall_m"),
                    row.number("rating_pa"),
                    row.number("rating_temp_c"),
                    series.text("material"),
                    series.text("standard"),
                    series.number("thread_factor"),
                    row.provenance,
                    row.provenance_of("rating"),
                )
                found.append(_Listed(pipe, series, inches, dn))
    order = [row.text("series") for row in table("pipe_series")]
    return tuple(sorted(found, key=lambda one: order.index(one.pipe.series)))


@lru_cache(maxsize=1)
def pipes() -> tuple[Pipe, ...]:
    """Every pipe of the catalogue, series by series, small to large."""
    return tuple(listed.pipe for listed in _listed())


def find_pipe(series: str, size: str | None = None) -> Pipe:
    """The pipe meant by ``series`` and ``size``, or by both in one text.

    ``find_pipe("sch 40 steel", '2"')``, ``find_pipe("PE100 SDR 11, 63 mm")``,
    ``find_pipe("steel-sch-40", "2 in")``. Raises ``InputError`` naming the closest pipes when a word, a
    series or a size is not known, and the choices when more than one pipe is meant. See
    :func:`match_pipe` for what is assumed when a weight or a grade is left out.
    """
    return match_pipe(series, size).pipe


def match_pipe(series: str, size: str | None = None, *, field: str | None = None) -> PipeMatch:
    """Like :func:`find_pipe`, with what had to be assumed.

    Steel with no weight is taken as what is commonly sold: Schedule 40 in inches, medium (EN 10255) in
    DN. Where only the grade of plastic is missing, so that bore and wall are the same, the grade with
    the lower rating is taken. ``field`` names the input in errors. Raises like :func:`find_pipe`.
    """
    typed = series if size is None else f"{series}, {size}"
    exact = [one for one in _listed() if one.pipe.series == series.strip().lower()]
    spelling = read_spelling((size or "") if exact else typed)
    if spelling.strange:
        raise InputError(
            "pipe_word_unknown", field=field, value=typed, words=spelling.strange, closest=_names_like(typed)
        )
    if not (exact or spelling.features):
        raise InputError("pipe_stuff_missing", field=field, value=typed, choices=_one_of_each())
    candidates = exact or _of_series(spelling)
    if not candidates:
        raise InputError("pipe_unknown", field=field, value=typed, closest=_names_like(typed))
    candidates, assumed = _usual_weight(candidates, spelling)
    if len(spelling.sizes) != 1:
        several = _titles(candidates)
        if len(several) > 1 and not spelling.sizes:
            raise InputError("pipe_ambiguous", field=field, value=typed, choices=_gathered(several))
        sizes, title = _sizes(candidates), several[0]
        if spelling.sizes:
            raise InputError("pipe_sizes_several", field=field, value=typed, sizes=sizes, series=title)
        raise InputError("pipe_size_missing", field=field, value=typed, sizes=sizes, series=title)
    sized = [one for one in candidates if _is_size(one, spelling.sizes[0])]
    if not sized:
        raise InputError(
            "pipe_size_unknown",
            field=field,
            value=typed,
            series=_titles(candidates)[0],
            sizes=_sizes(candidates),
        )
    weakest = min(sized, key=lambda one: one.pipe.rating_pa)
    if any(_shape(one.pipe) != _shape(weakest.pipe) for one in sized):
        raise InputError("pipe_ambiguous", field=field, value=typed, choices=_gathered(_titles(sized)))
    if len(sized) > 1:
        assumed = (*assumed, "weaker_grade")
    finish = spelling.get("finish")
    pipe = replace(weakest.pipe, material=finish[0]) if finish else weakest.pipe
    return PipeMatch(pipe, assumed)


def _shape(pipe: Pipe) -> tuple[float, float]:
    return (round(pipe.od_m, 6), round(pipe.id_m, 6))


def _of_series(spelling: Spelling) -> list[_Listed]:
    """The pipes that agree with every feature given."""
    found = list(_listed())
    for feature, value in spelling.features:
        found = [one for one in found if _agrees(one, feature, value)]
    return found


def _agrees(one: _Listed, feature: str, value: str) -> bool:
    row = one.series
    if feature == "family":
        # "PVC" is said of both kinds; "PVC-U" only of one.
        return row.text("family") == value or (value == "pvc" and row.text("family") == "pvc-u")
    if feature == "finish":
        return row.text("family") == "steel"
    if feature in {"grade", "standard"}:
        return row.text(feature) == value
    metric = row.text("sizing") == "metric"
    if feature == "pn":
        return metric and _is_class(one.pipe.rating_pa, UNITS["bar"].to_si(float(value)))
    if feature == "psi":
        rated = row.text("class_kind") in {"sdr", "sidr"} and not metric
        return rated and _is_class(one.pipe.rating_pa, UNITS["psi"].to_si(float(value)))
    if row.text("class_kind") != feature:
        return False
    if feature in {"weight", "type"}:
        return row.text("class_value") == value
    return float(row.text("class_value")) == float(value)


def _is_class(rating_pa: float, asked_pa: float) -> bool:
    return abs(rating_pa - asked_pa) <= _CLASS_SLACK * asked_pa


def _usual_weight(candidates: list[_Listed], spelling: Spelling) -> tuple[list[_Listed], tuple[str, ...]]:
    """The weight commonly sold, where several are meant and the series table names one for these units."""
    if len(_titles(candidates)) == 1:
        return candidates, ()
    units = {size.unit for size in spelling.sizes}
    wanted = "metric" if units & {"mm", "dn"} else "inch"
    usual = [one for one in candidates if one.series.text("usual_for") == wanted]
    # Only when they are all of one stuff: "2 in" alone is not steel.
    if usual and {one.series.text("family") for one in candidates} == {"steel"}:
        return usual, ("usual_weight",)
    return candidates, ()


def _is_size(one: _Listed, size: Size) -> bool:
    inches = size.unit == "inch" or (
        size.unit == "bare" and one.inches is not None and size.number <= _LARGEST_BARE_INCHES
    )
    if inches:
        return one.inches is not None and abs(one.inches - size.number) < 1e-6
    return abs(one.dn - size.number) < 1e-6


def _titles(found: Iterable[_Listed]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.pipe.title for one in found))


def _sizes(found: Iterable[_Listed]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.pipe.size for one in found))


def _gathered(titles: tuple[str, ...]) -> tuple[str, ...]:
    """Titles that differ in their last word only put together: ``PE100 SDR 7.4/9/11``."""
    by_stem: dict[str, list[str]] = {}
    for title in titles:
        stem, _, last = title.rpartition(" ")
        by_stem.setdefault(stem, []).append(last)
    return tuple(f"{stem} {'/'.join(last)}" for stem, last in by_stem.items())


def _one_of_each() -> tuple[str, ...]:
    """A title of every stuff."""
    first: dict[str, str] = {}
    for one in _listed():
        first.setdefault(one.series.text("family"), one.pipe.title)
    return tuple(first.values())


def _names_like(typed: str) -> tuple[str, ...]:
    """A few titles like what was typed, of the same stuff where one was named."""
    family = [feature for feature in read_spelling(typed).features if feature[0] in {"family", "grade"}]
    same = [one for one in _listed() if all(_agrees(one, *feature) for feature in family)]
    from difflib import SequenceMatcher  # only when something was not found

    wanted = _sorted_words(typed)
    likeness = {
        title: SequenceMatcher(None, wanted, _sorted_words(title)).ratio()
        for title in _titles(same or _listed())
    }
    best = sorted(likeness, key=lambda title: -likeness[title])[:_NAMES]
    return tuple(best) if family or likeness[best[0]] >= _UNLIKE else _one_of_each()


def _sorted_words(text: str) -> str:
    return " ".join(sorted(text.lower().replace(",", " ").split()))
