"""One family of errors: a code, the field, the value as typed, and the numbers the sentence needs.

Prose lives in ``ramwright.wording``; an error only carries what the sentence is made from, so that
it can be shown in any language and either unit system.
"""

from __future__ import annotations


class RamwrightError(Exception):
    """Base of every error ramwright raises on purpose.

    Parameters: ``code`` names the sentence in ``ramwright.wording``; ``field`` is the dotted path of
    the input that is wrong (``"drive_pipe[0].length"``); ``value`` is what was given, as typed;
    ``line`` is its line in the file, counted from 1; ``details`` fill the sentence's blanks.
    """

    def __init__(
        self,
        code: str,
        *,
        field: str | None = None,
        value: object = None,
        line: int | None = None,
        **details: object,
    ) -> None:
        self.code = code
        self.field = field
        self.value = value
        self.line = line
        self.details = details
        super().__init__(code, field, value, line, details)

    def __str__(self) -> str:
        """Developer's view; users see the sentence made by ``ramwright.wording``."""
        where = f" at {self.field}" if self.field else ""
        line = f" (line {self.line})" if self.line is not None else ""
        given = f": {self.value!r}" if self.value is not None else ""
        return f"{self.code}{where}{line}{given} {self.details or ''}".rstrip()


class InputError(RamwrightError):
    """What the user gave cannot be used; nothing was changed. Commands exit with status 2."""


class LimitError(RamwrightError):
    """A relation was asked outside the range its source states."""
