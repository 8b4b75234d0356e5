"""Catalogues of translations: which sentences there are, and the files their translations are kept in.

A language is kept in ``languages/<code>/*.po``, one file a subject, and read by gettext from
``languages/<code>/LC_MESSAGES/ramwright.mo``, which this module makes of them::

    python -m ramwright.wording.catalogues            # make every language's .mo again
    python -m ramwright.wording.catalogues missing es # what Spanish lacks, as entries of a .po file

The forms of both files are those of GNU gettext, its manual, "The Format of PO Files" and "The Format
of GNU MO Files" (from memory; the tests have Python's own gettext read what is written here).
"""

from __future__ import annotations

import ast
import json
import pkgutil
import struct
import sys
from collections.abc import Iterator, Mapping, Sequence
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from ramwright.wording.translate import DOMAIN, FOLDER

_ROOMS: Final = ("ramwright.wording", "ramwright.services", "ramwright.cli")
_SAYERS: Final = {"ramwright.wording": frozenset({"say", "_say", "translate"})}
"""Functions that take a sentence first, by room; elsewhere only ``translate`` does."""
_SILENT: Final = frozenset(
    {
        "ramwright.wording.translate",
        "ramwright.wording.catalogues",
        "ramwright.wording.beat:COLUMNS",
        "ramwright.wording.blanks:CHANCE",
        "ramwright.wording.blanks:DAILY",
        "ramwright.wording.reduced:BADGES",
    }
)
"""Modules and constants of ``wording`` that hold no sentences."""
_ALSO: Final = ("low", "likely", "high")
"""Said from within a loop, by ``told``."""
_HEADER: Final = "Content-Type: text/plain; charset=UTF-8\n"
_MAGIC: Final = 0x950412DE


def messages() -> dict[str, str]:
    """Every message id, with the module and constant it stands in, in the order of the modules.

    These are all strings held by public constants of the modules of ``wording``, and every literal given
    straight to ``say`` or ``translate``.
    """
    found: dict[str, str] = {}
    for name in _modules():
        tree = ast.parse(_source(name))
        sayers = _SAYERS.get(".".join(name.split(".")[:2]), frozenset({"translate"}))
        if name.startswith("ramwright.wording") and name not in _SILENT:
            for constant in _constants(tree):
                place = f"{name}:{constant}"
                if place in _SILENT:
                    continue
                for text in _strings(getattr(import_module(name), constant)):
                    found.setdefault(text, place)
        for text in _literals(tree, sayers):
            found.setdefault(text, name)
    for text in _ALSO:
        found.setdefault(text, "ramwright.wording.told")
    found.pop("", None)
    return found


def _modules() -> Iterator[str]:
    for room in _ROOMS:
        yield room
        for module in pkgutil.walk_packages(import_module(room).__path__, f"{room}."):
            yield module.name


def _source(name: str) -> str:
    spec = find_spec(name)
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).read_text("utf-8")


def _constants(tree: ast.Module) -> Iterator[str]:
    for node in tree.body:
        targets = [node.target] if isinstance(node, ast.AnnAssign) else getattr(node, "targets", [])
        for target in targets:
            if isinstance(target, ast.Name) and target.id.isupper() and not target.id.startswith("_"):
                yield target.id


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for each in value.values():
            yield from _strings(each)
    elif isinstance(value, tuple | list):
        for each in value:
            yield from _strings(each)


def _literals(tree: ast.Module, sayers: frozenset[str]) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and node.args:
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            first = node.args[0]
            if called in sayers and isinstance(first, ast.Constant) and isinstance(first.value, str):
                yield first.value


def read(text: str) -> dict[str, str]:
    """Message ids and their translations in the text of a .po file.

    Raises ``ValueError`` on a line that is none of such a file's, or on a message given twice.
    """
    pairs: list[list[str]] = []
    for number, raw in enumerate(text.splitlines(), 1):
        line = raw.strip()
        word, _, rest = line.partition(" ")
        if not line or line.startswith("#"):
            continue
        if word == "msgid":
            pairs.append([_unquoted(rest, number)])
        elif word == "msgstr" and pairs and len(pairs[-1]) == 1:
            pairs[-1].append(_unquoted(rest, number))
        elif line.startswith('"') and pairs:
            pairs[-1][-1] += _unquoted(line, number)
        else:
            raise ValueError(f"line {number} means nothing: {line}")
    found: dict[str, str] = {}
    for pair in pairs:
        if len(pair) != 2 or pair[0] in found:
            raise ValueError(f"without a translation, or there twice: {pair[0]!r}")
        found[pair[0]] = pair[1]
    found.pop("", None)
    return found


def _unquoted(text: str, line: int) -> str:
    # What the two forms escape alike is all that is used: \" \\ \n \t.
    try:
        return str(json.loads(text.strip()))
    except ValueError as error:
        raise ValueError(f"line {line} is no quoted text: {text}") from error


def written(pairs: Mapping[str, str], places: Mapping[str, str] | None = None) -> str:
    """``pairs`` as entries of a .po file, each under the place its message stands in."""
    lines: list[str] = []
    for message, said in pairs.items():
        if places and message in places:
            lines.append(f"#: {places[message]}")
        lines += [f"msgid {json.dumps(message, ensure_ascii=False)}"]
        lines += [f"msgstr {json.dumps(said, ensure_ascii=False)}", ""]
    return "\n".join(lines)


def translations(language: str, folder: Path = FOLDER) -> dict[str, str]:
    """All that ``language`` says, of all its .po files; raises ``ValueError`` where two files differ."""
    found: dict[str, str] = {}
    for path in sorted((folder / language).glob("*.po")):
        for message, said in read(path.read_text("utf-8")).items():
            if found.setdefault(message, said) != said:
                raise ValueError(f"{path.name} says {message!r} otherwise than another file")
    return found


def compiled(pairs: Mapping[str, str]) -> bytes:
    """``pairs`` as a .mo file: two tables of lengths and offsets, ids sorted, then all texts."""
    table = {"": _HEADER, **pairs}
    keys = sorted(table, key=str.encode)
    texts = [text.encode() for text in (*keys, *(table[key] for key in keys))]
    count, offset = len(keys), 28 + 16 * len(keys)
    head = struct.pack("<7I", _MAGIC, 0, count, 28, 28 + 8 * count, 0, offset)
    entries = []
    for text in texts:
        entries.append(struct.pack("<2I", len(text), offset))
        offset += len(text) + 1
    return head + b"".join(entries) + b"".join(text + b"\0" for text in texts)


def languages(folder: Path = FOLDER) -> list[str]:
    """Languages that have .po files."""
    return sorted({path.parent.name for path in folder.glob("*/*.po")})


def catalogue(language: str, folder: Path = FOLDER) -> Path:
    """Where gettext looks for ``language``."""
    return folder / language / "LC_MESSAGES" / f"{DOMAIN}.mo"


def make(folder: Path = FOLDER) -> list[Path]:
    """Make each language's .mo of its .po files; the files made."""
    made = []
    for language in languages(folder):
        path = catalogue(language, folder)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(compiled(translations(language, folder)))
        made.append(path)
    return made


def main(arguments: Sequence[str]) -> int:
    """Make the catalogues, or with ``missing <code>`` print what a language lacks; the exit status."""
    if arguments[:1] == ["missing"] and len(arguments) == 2:
        known, there = messages(), translations(arguments[1])
        lacking = {message: "" for message in known if not there.get(message)}
        print(written(lacking, known), end="")
        return 1 if lacking else 0
    if arguments:
        print(__doc__, file=sys.stderr)
        return 2
    for path in make():
        print(path.relative_to(FOLDER))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
