"""What every part of a sheet is made from."""

from pydantic import BaseModel, ConfigDict

from ramwright.errors import InputError, RamwrightError
from ramwright.site.fields import RefusedError


class InputNote(RamwrightError):  # noqa: N818  # not an error: it is only said like one
    """Something the reader of a sheet took to be meant, said like an error but never raised."""


class Part(BaseModel):
    """Base of everything on a sheet: cannot be changed, knows no other entries than its own."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True, hide_input_in_errors=True)


def one_of_two(first: str, second: str) -> RefusedError:
    """Both of two entries that say the same thing; the ``second`` is named as the one too many."""
    return RefusedError(InputError("one_of_two", field=second, first=first, second=second))
