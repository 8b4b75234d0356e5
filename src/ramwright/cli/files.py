"""Files a command leaves behind: whole or not at all, and never over another one."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from ramwright.cli.settings import Settings
from ramwright.errors import InputError


def write_new(path: Path, text: str, settings: Settings) -> None:
    """Write ``text`` to a file that is not there yet, and note it in ``settings``.

    It appears under its name only when complete. Raises ``InputError``: ``file_exists``,
    ``file_not_written``.
    """
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(name, 0o666 & ~_umask())
            # A link, unlike a rename, does not replace what is there.
            os.link(name, path)
        finally:
            with contextlib.suppress(OSError):
                os.unlink(name)
    except FileExistsError:
        raise InputError("file_exists", field="--out", value=str(path)) from None
    except OSError as error:
        raise InputError("file_not_written", field="--out", value=str(path), reason=error.strerror) from None
    settings.written.append(str(path))


def _umask() -> int:
    # There is no way to read it without setting it.
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
