"""A finished picture, and the two ways to have it: SVG text and PNG bytes."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from ramwright.drawings.settings import drawn
from ramwright.drawings.svg import tidy

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Width = Literal["desktop", "phone"]
PIXELS: Final[dict[Width, int]] = {"desktop": 960, "phone": 390}
"""Width of a picture, in the pixels of a page."""
MARGIN: Final[dict[Width, float]] = {"desktop": 28.0, "phone": 16.0}
"""Empty room all round."""
DOTS_PER_INCH: Final = 72
"""At which a point is a pixel of the page."""


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """A picture of ``width`` by ``height`` pixels of the page, with a title and a description in words."""

    figure: Figure
    title: str
    description: str
    width: int
    height: int

    @drawn
    def svg(self) -> str:
        """The picture as SVG: text is text, title and description are in it, the same each time."""
        made = io.StringIO()
        nothing = dict.fromkeys(("Date", "Creator", "Format", "Type"))
        self.figure.savefig(made, format="svg", dpi=DOTS_PER_INCH, metadata=nothing)
        return tidy(made.getvalue(), title=self.title, description=self.description)

    @drawn
    def png(self, *, scale: float = 2.0) -> bytes:
        """The picture as PNG with ``scale`` dots to a pixel of the page, the same each time."""
        made = io.BytesIO()
        about = {"Software": None, "Title": self.title, "Description": self.description}
        self.figure.savefig(made, format="png", dpi=DOTS_PER_INCH * scale, metadata=about)
        return made.getvalue()
