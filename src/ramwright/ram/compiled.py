"""How the kernel is compiled, and where the compiled code is kept between starts.

numba's own cache does not see edits in a file that a cached function calls into, so the cache
folder is named after a hash of every source file of this room. If the folder cannot be written, the
kernel is compiled afresh in each process and ``CACHE_PROBLEM`` says why.
"""

from __future__ import annotations

import hashlib
import os
import platform
import shutil
import sys
import tempfile
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path
from typing import Any, TypeVar

_F = TypeVar("_F", bound=Callable[..., Any])
_KEPT_GENERATIONS = 3


def source_hash() -> str:
    """Hash of everything that decides the compiled code, as 16 hex digits."""
    digest = hashlib.sha256()
    for path in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(path.name.encode())
        digest.update(path.read_bytes())
    for part in (version("numba"), version("numpy"), sys.version, platform.machine()):
        digest.update(part.encode())
    return digest.hexdigest()[:16]


def _cache_root() -> Path:
    """User's cache folder: ``RAMWRIGHT_CACHE``, else the platform's usual place."""
    named = os.environ.get("RAMWRIGHT_CACHE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return (Path(base) if base else Path.home() / ".cache") / "ramwright"


def _prepare() -> tuple[Path | None, str]:
    """Folder for the compiled kernel (``None`` if there can be none) and the reason why not."""
    try:
        folder = _cache_root() / f"kernel-{source_hash()}"
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
        os.utime(folder)
        generations = sorted(folder.parent.glob("kernel-*"), key=lambda p: p.stat().st_mtime)
        for old in generations[:-_KEPT_GENERATIONS]:
            if old != folder:
                shutil.rmtree(old, ignore_errors=True)
    except (OSError, RuntimeError) as problem:
        return None, str(problem)
    return folder, ""


CACHE_FOLDER, CACHE_PROBLEM = _prepare()
if CACHE_FOLDER is not None:
    os.environ["NUMBA_CACHE_DIR"] = str(CACHE_FOLDER)

import numba  # noqa: E402  (the cache folder must be named before numba is imported)

if CACHE_FOLDER is not None:
    numba.config.CACHE_DIR = str(CACHE_FOLDER)  # type: ignore[attr-defined]


def is_warm() -> bool:
    """Whether this exact kernel has been compiled and kept before."""
    return CACHE_FOLDER is not None and any(CACHE_FOLDER.rglob("kernel.run_block*.nbi"))


def kernel(function: _F) -> _F:
    """Compile a function of numbers and arrays only.

    The flags allow fused multiply-add but leave NaN and infinity alone, so that a guard against them can
    fire; a division by zero gives one of them instead of stopping. The lock of the interpreter is
    released: runs go in threads side by side.
    """
    decorate: Any = numba.njit(
        cache=CACHE_FOLDER is not None, nogil=True, fastmath={"contract", "nsz"}, error_model="numpy"
    )
    compiled: _F = decorate(function)
    return compiled
