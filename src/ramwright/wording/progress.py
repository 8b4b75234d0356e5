"""What is said while something takes its time."""

from __future__ import annotations

from typing import Final

COUNTED: Final = "{done} of {of} runs"
COMPILING: Final = "Compiling the engine, this once (about 15 s) ..."
NO_CACHE: Final = "The engine is compiled anew each time: its cache cannot be kept ({problem})."
