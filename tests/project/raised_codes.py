"""Find, without running anything, every error code the source raises and what goes with it.

Counted are calls of the error family (``InputError("code", ...)``, and ``super().__init__("code", ...)`` in a
class of the family) and of forwarders: functions of the same room with a parameter ``code`` that they hand
on. A code must be written out: as text, as a choice between texts, as a name given such a text in the
function or at the top of the file, or in a table of texts at the top of the file.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

FAMILY = frozenset({"RamwrightError", "InputError", "LimitError"})
STANDARD = frozenset({"field", "value", "line"})
Function = ast.FunctionDef | ast.AsyncFunctionDef
Tables = dict[str, set[str]]
_NOTHING = ast.Call(func=ast.Name(id=""), args=[], keywords=[])


@dataclass(frozen=True, slots=True)
class Raised:
    """A code, the room that raises it, where, and the details given (``open``: others may be too)."""

    code: str
    room: str
    place: str
    details: frozenset[str]
    open: bool


@dataclass(frozen=True, slots=True)
class _Target:
    """What is called: where it takes its code, its own parameters, and the details it adds by itself."""

    position: int = 0
    parameters: frozenset[str] = frozenset()
    details: frozenset[str] = frozenset()
    open: bool = False


@dataclass(frozen=True, slots=True)
class _Call:
    """A call, the function and class it stands in, and the tables of texts of its file."""

    node: ast.Call
    function: Function | None = None
    cls: str = ""
    tables: Tables = field(default_factory=dict)

    def name(self, family: frozenset[str]) -> str:
        """Name of what is called; the base of the family for a class's ``super().__init__``."""
        return "RamwrightError" if self.cls in family and self.is_super() else _name(self.node.func)

    def is_super(self) -> bool:
        """Whether this is ``super().__init__``."""
        match self.node.func:
            case ast.Attribute(attr="__init__", value=ast.Call(func=ast.Name(id="super"))):
                return True
        return False

    def code(self, position: int) -> ast.expr | None:
        """What is given as the code."""
        named = (word.value for word in self.node.keywords if word.arg == "code")
        first = self.node.args[position] if 0 <= position < len(self.node.args) else None
        return next(named, first)

    def details(self) -> tuple[frozenset[str], bool]:
        """Names given, and whether others may be given too."""
        given = {word.arg for word in self.node.keywords if word.arg}
        more = False
        for word in self.node.keywords:
            if word.arg is None and not self._handed_on(word.value):
                keys = _keys(word.value, self.function)
                given |= keys or set()
                more = more or keys is None
        return (frozenset(given) - STANDARD - {"code"}) | _added(self.function), more

    def _handed_on(self, value: ast.expr) -> bool:
        """Whether ``**value`` is what the function itself was given, which counts where it is called."""
        own = self.function.args.kwarg if self.function else None
        return own is not None and isinstance(value, ast.Name) and value.id == own.arg


def raised(sources: dict[str, str]) -> tuple[list[Raised], list[str]]:
    """Codes raised in ``sources`` (path within the package -> text), and places whose code cannot be told."""
    trees = {path: ast.parse(source) for path, source in sources.items()}
    family = _family(trees.values())
    calls = {path: list(_calls(tree, _Call(_NOTHING, tables=_tables(tree)))) for path, tree in trees.items()}
    found: list[Raised] = []
    unclear: list[str] = []
    for path in trees:
        room = room_of(path)
        neighbours = [call for other in calls if room_of(other) == room for call in calls[other]]
        targets = _targets(neighbours, family)
        for call in calls[path]:
            target = targets.get(call.name(family))
            if target is None:
                continue
            place = f"{path}:{call.node.lineno}"
            codes = _codes(call.code(target.position), call)
            if codes is None:
                unclear.append(place)
                continue
            details, more = call.details()
            details = (details - target.parameters) | target.details
            found += [Raised(code, room, place, details, more or target.open) for code in sorted(codes)]
    return found, unclear


def room_of(path: str) -> str:
    """Room a path within the package belongs to."""
    return path.partition("/")[0].removesuffix(".py")


def _family(trees: Iterable[ast.Module]) -> frozenset[str]:
    classes = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]
    family = set(FAMILY)
    while more := {c.name for c in classes if c.name not in family and {_name(b) for b in c.bases} & family}:
        family |= more
    return frozenset(family)


def _targets(calls: list[_Call], family: frozenset[str]) -> dict[str, _Target]:
    """The family, and the functions that hand their ``code`` on to it or to another such function."""
    # A class that gives the family its code itself takes none from whoever makes it.
    fixed = {call.cls for call in calls if call.is_super() and not isinstance(call.code(0), ast.Name)}
    found = dict.fromkeys(family - fixed, _Target())
    known = 0
    while len(found) > known:
        known = len(found)
        for call in calls:
            target, function = found.get(call.name(family)), call.function
            if target is None or function is None or function.name in found:
                continue
            names = _parameters(function)
            code = call.code(target.position)
            if function.name == "__init__" or not (isinstance(code, ast.Name) and code.id == "code" in names):
                continue
            positional = [name for name in names if name not in {a.arg for a in function.args.kwonlyargs}]
            details, more = call.details()
            found[function.name] = _Target(
                position=positional.index("code") if "code" in positional else -1,
                parameters=frozenset(names),
                details=(details - target.parameters) | target.details,
                open=more or target.open,
            )
    return found


def _parameters(function: Function) -> list[str]:
    arguments = function.args
    names = [arg.arg for arg in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)]
    return names[1:] if names[:1] in (["self"], ["cls"]) else names


def _added(function: Function | None) -> frozenset[str]:
    """Details a function adds to an error it has made: ``error.details |= {"before": ...}``."""
    keys: set[str] = set()
    for node in ast.walk(function) if function else ():
        if isinstance(node, ast.AugAssign) and _name(node.target) == "details":
            keys |= _keys(node.value, function) or set()
    return frozenset(keys)


def _keys(node: ast.expr, function: Function | None) -> set[str] | None:
    """Keys of a dict written out here or given to a local name; None when that cannot be told."""
    if isinstance(node, ast.Name) and function is not None:
        found = [_keys(value, None) for value in _assigned(node.id, function)]
        told = [keys for keys in found if keys is not None]
        return set().union(*told) if told and len(told) == len(found) else None
    if not isinstance(node, ast.Dict):
        return None
    keys = {key.value for key in node.keys if isinstance(key, ast.Constant) and isinstance(key.value, str)}
    # an unpacked dict has None for its key; one that only hands on is not worth telling apart here
    return keys if all(key is None or isinstance(key, ast.Constant) for key in node.keys) else None


def _tables(tree: ast.Module) -> Tables:
    """Texts, and dicts whose values are all texts, at the top of a file."""
    found: Tables = {}
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            target = node.target if isinstance(node, ast.AnnAssign) else node.targets[0]
            values = node.value.values if isinstance(node.value, ast.Dict) else [node.value]
            texts = {v.value for v in values if isinstance(v, ast.Constant) and isinstance(v.value, str)}
            if texts and all(isinstance(value, ast.Constant) for value in values):
                found[_name(target)] = texts
    return found


def _calls(node: ast.AST, around: _Call) -> Iterator[_Call]:
    for inner in ast.iter_child_nodes(node):
        function = inner if isinstance(inner, Function) else around.function
        cls = inner.name if isinstance(inner, ast.ClassDef) else around.cls
        here = _Call(around.node, function, cls, around.tables)
        if isinstance(inner, ast.Call):
            yield _Call(inner, function, cls, around.tables)
        yield from _calls(inner, here)


def _name(node: ast.AST) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _codes(node: ast.expr | None, call: _Call) -> set[str] | None:
    """Codes an expression can be; empty when it only hands on a code; None when that cannot be told."""
    match node:
        case ast.Constant(value=str(text)):
            return {text}
        case ast.IfExp(body=body, orelse=orelse):
            return _together([_codes(body, call), _codes(orelse, call)])
        case ast.Attribute(attr="code"):
            return set()
        case ast.Subscript(value=ast.Name(id=table)) if table in call.tables:
            return call.tables[table]
        case ast.Call(func=ast.Attribute(value=ast.Name(id=table), attr="get"), args=args) if (
            table in call.tables
        ):
            return _together([call.tables[table], *(_codes(arg, call) for arg in args[1:])])
        case ast.Name(id=name) if call.function is not None:
            if name in _parameters(call.function):
                return set() if name == "code" else None
            here = [_codes(value, call) for value in _assigned(name, call.function)]
            return _together(here or [call.tables.get(name)])
    return None


def _assigned(name: str, function: Function) -> list[ast.expr]:
    """Everything the function gives to a local name."""
    found: list[ast.expr] = []
    for node in ast.walk(function):
        match node:
            case ast.Assign(targets=targets, value=value) if any(_name(target) == name for target in targets):
                found.append(value)
            case ast.AnnAssign(target=target, value=ast.expr() as value) if _name(target) == name:
                found.append(value)
    return found


def _together(found: list[set[str] | None]) -> set[str] | None:
    told = [codes for codes in found if codes is not None]
    return set().union(*told) if told and len(told) == len(found) else None
