"""Which language sentences are shown in.

The message ids are the English sentences themselves, blanks and all, so English needs no catalogue. A
language is added by putting ``languages/<code>/LC_MESSAGES/ramwright.mo`` beside this file; nothing else
has to change. A sentence a catalogue lacks is shown in English.
"""

from __future__ import annotations

import gettext
import os
from functools import lru_cache
from pathlib import Path
from typing import Final

DOMAIN: Final = "ramwright"
ENGLISH: Final = "en"
FOLDER: Final = Path(__file__).parent / "languages"
# Asked in this order, as gettext does.
_VARIABLES: Final = ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG")


def available(folder: Path = FOLDER) -> tuple[str, ...]:
    """Languages that can be shown, English first; ``folder`` holds their catalogues."""
    found = sorted(path.parts[-3] for path in folder.glob(f"*/LC_MESSAGES/{DOMAIN}.mo"))
    return (ENGLISH, *found)


def wanted() -> tuple[str, ...]:
    """Languages the environment asks for, best first (``de_AT.UTF-8`` asks for ``de_AT``, then ``de``)."""
    for name in _VARIABLES:
        value = os.environ.get(name, "")
        if value:
            codes = [code.split(".")[0] for code in value.split(":") if code]
            return tuple(spelt for code in codes for spelt in (code, code.split("_")[0]))
    return ()


@lru_cache(maxsize=16)
def _catalogue(languages: tuple[str, ...], folder: Path) -> gettext.NullTranslations:
    ahead: list[str] = []
    for language in languages:
        if language in (ENGLISH, "C", "POSIX"):
            break
        ahead.append(language)
    if not ahead:
        return gettext.NullTranslations()
    return gettext.translation(DOMAIN, localedir=folder, languages=ahead, fallback=True)


def translate(message: str, language: str | None = None, *, folder: Path = FOLDER) -> str:
    """The English ``message``, blanks unfilled, in ``language`` (None: the environment's)."""
    languages = wanted() if language is None else (language,)
    return _catalogue(languages, folder).gettext(message) if message else ""
