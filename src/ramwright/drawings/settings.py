"""matplotlib with settings of our own, whatever the machine or the caller has set.

matplotlib is imported when a picture is drawn, not before: it takes longer to load than most commands
run. Its settings belong to the whole process, so pictures are drawn one at a time.
"""

from __future__ import annotations

import threading
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from typing import Any, Final, ParamSpec, TypeVar

_P = ParamSpec("_P")
_T = TypeVar("_T")
_LOCK: Final = threading.RLock()
FONT: Final = "DejaVu Sans"
"""Comes with matplotlib, so text has one width everywhere; no wider font is in common use."""
_OURS: Final[Any] = {
    "font.family": [FONT],
    "svg.fonttype": "none",
    "svg.hashsalt": "ramwright",
    "svg.id": None,
    "text.hinting": "none",
    "text.parse_math": False,
    "path.simplify": False,
}


@contextmanager
def our_settings() -> Iterator[None]:
    """Draw alone, with ``_OURS`` over matplotlib's defaults; what was set before comes back."""
    import matplotlib

    with _LOCK, matplotlib.rc_context(), warnings.catch_warnings():
        # a letter the font lacks shows as a box in a PNG; in an SVG the reader's own fonts have it
        warnings.filterwarnings("ignore", message="Glyph .* missing from")
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(_OURS)
        yield


def drawn(function: Callable[_P, _T]) -> Callable[_P, _T]:
    """Run a function under ``our_settings``."""

    @wraps(function)
    def inside(*args: _P.args, **kwargs: _P.kwargs) -> _T:
        with our_settings():
            return function(*args, **kwargs)

    return inside
