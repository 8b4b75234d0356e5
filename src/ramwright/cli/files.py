"""Files a command leaves behind: whole or not at all, and never over another one."""

from __future__ import annotations

import os
from pathlib import Path

from ramwright.cli.settings import Settings
from ramwright.errors import InputError


def write_new(path: Path, text: str, settings: Settings) -> None:
    """Write ``text`` to a file that is not there yet, and note it in ``settings``.

    A file that could not be finished is taken away again. Raises ``InputError``: ``file_exists``,
    ``file_not_written``.
    """
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            try:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            except BaseException:
                path.unlink()
                raise
    except FileExistsError:
        raise InputError("file_exists", field="--out", value=str(path)) from None
    except OSError as error:
        raise InputError("file_not_written", field="--out", value=str(path), reason=error.strerror) from None
    settings.written.append(str(path))
