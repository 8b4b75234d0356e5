"""Files a command leaves behind: whole or not at all, and never over another one."""

from __future__ import annotations

import os
from pathlib import Path

from ramwright.cli.settings import Settings
from ramwright.errors import InputError


def write_new(path: Path, content: str | bytes, settings: Settings, *, option: str = "--out") -> None:
    """Write ``content`` (text as UTF-8) to a file that is not there yet, and note it in ``settings``.

    A file that could not be finished is taken away again. Raises ``InputError`` about ``option``:
    ``file_exists``, ``file_not_written``.
    """
    data = content.encode() if isinstance(content, str) else content
    try:
        with path.open("xb") as file:
            try:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            except BaseException:
                path.unlink()
                raise
    except FileExistsError:
        raise InputError("file_exists", field=option, value=str(path)) from None
    except OSError as error:
        raise InputError("file_not_written", field=option, value=str(path), reason=error.strerror) from None
    settings.written.append(str(path))
