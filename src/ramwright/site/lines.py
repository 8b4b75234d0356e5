"""Which line of a sheet says what: the standard TOML reader gives values without their lines.

A small scanner that knows TOML's shapes but none of its values. It runs before the reader proper,
so it also refuses what would make that reader slow: endless nesting and endless dotted names. On
text that is not TOML it skips to the next line; saying what is wrong there is the reader's job.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

from ramwright.errors import InputError

Path = tuple[str | int, ...]

DEEPEST: Final = 12
"""Names in one dotted name, and brackets in brackets; a sheet needs four."""
MOST_ENTRIES: Final = 60_000
"""Entries in one sheet; a visit of five hundred readings has two and a half thousand."""

_BARE: Final = re.compile(r"[A-Za-z0-9_\-]++")
_SPACE: Final = re.compile(r"[ \t]*+")
_BLANK: Final = re.compile(r"(?:[ \t\n]++|#[^\n]*+)*+")
_REST: Final = re.compile(r"[^\n]*+")
_SCALAR: Final = re.compile(r"[^,\]}#\n]*+")
_STRINGS: Final = (
    ('"""', re.compile(r'"""(?:[^"\\]|\\.|"(?!""))*+"{3,5}', re.DOTALL)),
    ("'''", re.compile(r"'''(?:[^']|'(?!''))*+'{3,5}", re.DOTALL)),
    ('"', re.compile(r'"(?:[^"\\\n]|\\[^\n])*+"')),
    ("'", re.compile(r"'[^'\n]*+'")),
)
_ESCAPE: Final = re.compile(r'\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|([btnfr"\\]))')
_ESCAPED: Final = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


@dataclass(frozen=True, slots=True)
class Twice:
    """An entry written two times, with the lines of both."""

    path: Path
    first: int
    second: int


@dataclass(slots=True)
class Lines:
    """Line (from 1) of every entry, table and list element of a sheet, by its path."""

    at: dict[Path, int] = field(default_factory=dict)
    twice: list[Twice] = field(default_factory=list)

    def line(self, path: Path) -> int | None:
        """Line of ``path``, or of the nearest thing around it that has one."""
        while path:
            if path in self.at:
                return self.at[path]
            path = path[:-1]
        return None

    def path(self, line: int) -> Path | None:
        """The last entry that begins on ``line`` or before it."""
        before = [(at, len(path), path) for path, at in self.at.items() if at <= line]
        return max(before, key=lambda b: b[:2])[2] if before else None


def locate(text: str) -> Lines:
    """Find the lines of everything in a TOML text (newlines ``\\n``).

    Raises ``InputError`` ``too_nested`` or ``too_many_entries``; never complains of anything else.
    """
    scanner = _Scanner(text)
    scanner.document()
    return scanner.lines


class _Scanner:
    """Walks a text once, from left to right."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.pos = 0
        self.lines = Lines()
        self._line = 1
        self._counted = 0  # newlines up to here are in _line
        self._lists: dict[Path, int] = {}

    def document(self) -> None:
        """Tables and entries down to the end."""
        prefix: Path = ()
        while True:
            self._skip(_BLANK)
            if self.pos >= len(self.text):
                return
            if self.text[self.pos] == "[":
                prefix = self._header(prefix)
            else:
                self._entry(prefix, 0)
            self._skip(_REST)

    def _skip(self, pattern: re.Pattern[str]) -> bool:
        """Move past ``pattern``; whether anything was there."""
        found = pattern.match(self.text, self.pos)
        if found is None or found.end() == self.pos:
            return False
        self.pos = found.end()
        return True

    def _now(self) -> int:
        """Line of the current position."""
        self._line += self.text.count("\n", self._counted, self.pos)
        self._counted = self.pos
        return self._line

    def _note(self, path: Path, line: int) -> None:
        """Remember where ``path`` is."""
        if path in self.lines.at:
            self.lines.twice.append(Twice(path, self.lines.at[path], line))
            return
        self.lines.at[path] = line
        if len(self.lines.at) > MOST_ENTRIES:
            raise InputError("too_many_entries", line=line, most=MOST_ENTRIES)

    def _header(self, before: Path) -> Path:
        """``[table]`` or ``[[table]]``; the path entries below it belong to."""
        line = self._now()
        many = self.text.startswith("[[", self.pos)
        self.pos += 2 if many else 1
        names = self._names()
        if not names or not self.text.startswith("]", self.pos):
            return before
        path: Path = ()
        for name in names[:-1]:
            path = self._latest((*path, name))
        path = (*path, names[-1])
        if many:
            index = self._lists.get(path, -1) + 1
            self._lists[path] = index
            self.lines.at.setdefault(path, line)
            path = (*path, index)
        self._note(path, line)
        return path

    def _latest(self, path: Path) -> Path:
        """``path``, or its latest element when it is a list of tables."""
        return (*path, self._lists[path]) if path in self._lists else path

    def _names(self) -> list[str]:
        """A dotted name: bare or quoted parts."""
        names: list[str] = []
        while True:
            self._skip(_SPACE)
            name = self._name()
            if name is None:
                return []
            names.append(name)
            if len(names) > DEEPEST:
                raise InputError("too_nested", line=self._now(), deepest=DEEPEST)
            self._skip(_SPACE)
            if not self.text.startswith(".", self.pos):
                return names
            self.pos += 1

    def _name(self) -> str | None:
        """One part of a name."""
        start = self.pos
        if self._skip(_BARE):
            return self.text[start : self.pos]
        for mark, pattern in _STRINGS[2:]:
            if self.text.startswith(mark, self.pos) and self._skip(pattern):
                inside = self.text[start + 1 : self.pos - 1]
                return inside if mark == "'" else _ESCAPE.sub(_unescape, inside)
        return None

    def _entry(self, prefix: Path, depth: int) -> None:
        """``name = value``."""
        line = self._now()
        names = self._names()
        if not names or not self.text.startswith("=", self.pos):
            return
        self.pos += 1
        for end in range(1, len(names)):
            self.lines.at.setdefault((*prefix, *names[:end]), line)
        path = (*prefix, *names)
        self._note(path, line)
        self._value(path, depth)

    def _value(self, path: Path, depth: int) -> None:
        """A string, a list, a table in braces or anything else up to the next mark."""
        if depth > DEEPEST:
            raise InputError("too_nested", line=self._now(), deepest=DEEPEST)
        self._skip(_SPACE)
        for mark, pattern in _STRINGS:
            if self.text.startswith(mark, self.pos):
                if not self._skip(pattern):
                    self.pos += 1
                return
        if self.text.startswith("[", self.pos):
            self._inside("]", path, depth)
        elif self.text.startswith("{", self.pos):
            self._inside("}", path, depth)
        else:
            self._skip(_SCALAR)

    def _inside(self, close: str, path: Path, depth: int) -> None:
        """Elements of a list, or entries of a table in braces, up to ``close``."""
        self.pos += 1
        index = 0
        while self.pos < len(self.text):
            self._skip(_BLANK)
            if self.text.startswith(close, self.pos):
                self.pos += 1
                return
            start = self.pos
            if self.text.startswith(",", self.pos):
                self.pos += 1
                index += 1
            elif close == "]":
                if self.pos < len(self.text):
                    self._note_once((*path, index), self._now())
                    self._value((*path, index), depth + 1)
            else:
                self._entry(path, depth + 1)
            if self.pos == start:  # not TOML: leave the rest of it to the reader's complaint
                self.pos += 1

    def _note_once(self, path: Path, line: int) -> None:
        if path not in self.lines.at:
            self._note(path, line)


def _unescape(found: re.Match[str]) -> str:
    """The character an escape in a quoted name stands for."""
    digits = found[1] or found[2]
    if digits is None:
        return _ESCAPED[found[3]]
    code = int(digits, 16)
    return chr(code) if code <= 0x10FFFF else ""
