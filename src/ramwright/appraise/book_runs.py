"""The runs of a site's field book: what each is called, where it stands on the sheet, which day it is of."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Final

from ramwright.errors import InputError, LimitError
from ramwright.site import Site
from ramwright.site.booked import Booked
from ramwright.site.visit_models import Visit

LEVELS: Final = ("level_book", "hand_level", "abney", "hose", "gauge", "raised_pipe", "tape")
FLOWS: Final = ("bucket", "float_run", "v_notch", "rectangular_weir", "salt_slug", "salt_constant")
STAGES: Final = ("low", "", "normal", "flood")
"""Stages of the creek, lowest first; "" is one that was not stated."""


@dataclass(frozen=True, slots=True)
class Run:
    """One entry of the field book: ``kind`` of section, ``label`` no other has, ``path`` on the sheet."""

    kind: str
    label: str
    path: str
    part: Booked
    visit: Visit

    @property
    def stage(self) -> str:
        """How the creek stood, "" where that was not stated."""
        return self.visit.stage or ""


def runs_of(site: Site) -> tuple[Run, ...]:
    """Every run of the field book, visit by visit.

    A run that nobody named is called by its place on the sheet (``level_book[0]``, with its visit where
    there are several); a name used twice gets its place added.
    """
    found = [
        (kind, f"visit[{number}].{kind}[{i}]", part, visit)
        for number, visit in enumerate(site.visit)
        for kind in (*LEVELS, *FLOWS)
        for i, part in enumerate(getattr(visit, kind))
    ]
    given = Counter(getattr(part, "label", None) for _, _, part, _ in found)
    out: list[Run] = []
    for kind, path, part, visit in found:
        place = path if len(site.visit) > 1 else path.partition(".")[2]
        typed = getattr(part, "label", None)
        label = place if typed is None else typed if given[typed] == 1 else f"{typed}, {place}"
        out.append(Run(kind, label, path, part, visit))
    return tuple(out)


@contextmanager
def naming(runs: Sequence[Run]) -> Iterator[None]:
    """Errors raised inside get the sheet's name of the entry they are about.

    The survey knows a run by its label; one run alone is what anything raised inside is about.
    """
    try:
        yield
    except LimitError as error:  # a reading a relation was never meant for is a reading that cannot be used
        field = _on_sheet(error.field or "", runs) or error.field
        raise InputError(
            error.code, field=field, value=error.value, line=error.line, **error.details
        ) from None
    except InputError as error:
        error.field = _on_sheet(error.field or "", runs) or error.field
        raise


def _on_sheet(field: str, runs: Sequence[Run]) -> str | None:
    """``level_book[0][3]`` is ``visit[0].level_book[0].rows[3]``; else the run alone."""
    for run in sorted(runs, key=lambda each: len(each.label), reverse=True):
        if field.startswith(run.path):
            return field
        if field.startswith(run.label):
            rest = field[len(run.label) :]
            # "up" must not be found in "upper pool"
            if not rest or rest[0] in "[.":
                closer = re.sub(r"^\[", ".rows[", rest) if re.match(r"(\.\w+)?\[\d+\]", rest) else ""
                return run.path + closer
    if len(runs) != 1:
        return None
    row = re.fullmatch(r"\w+\[(\d+)\]", field)
    return f"{runs[0].path}.rows[{row[1]}]" if row and hasattr(runs[0].part, "rows") else runs[0].path
