"""Find, without running anything, every error code the source raises and what goes with it.

Counted are calls of the error family (``InputError("code", ...)``) and of forwarders: functions of the
same room with a parameter ``code`` that they pass on to the family. A code must be written out where it
is raised: as text, as a choice between texts, or as a local name given such a text.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

FAMILY = frozenset({"RamwrightError", "InputError", "LimitError"})
STANDARD = frozenset({"field", "value", "line"})
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True, slots=True)
class Raised:
    """A code, the room that raises it, where, and the details given (``open``: others may be too)."""

    code: str
    room: str
    place: str
    details: frozenset[str]
    open: bool


@dataclass(frozen=True, slots=True)
class _Forwarder:
    position: int
    parameters: frozenset[str]
    details: frozenset[str]
    open: bool


def raised(sources: dict[str, str]) -> tuple[list[Raised], list[str]]:
    """Codes raised in ``sources`` (path within the package -> text), and places whose code cannot be told."""
    trees = {path: ast.parse(source) for path, source in sources.items()}
    family = _family(trees.values())
    found: list[Raised] = []
    unclear: list[str] = []
    for path, tree in trees.items():
        room = room_of(path)
        neighbours = [other for name, other in trees.items() if room_of(name) == room]
        forwarders = _forwarders(neighbours, family)
        for function, call in _calls(tree):
            name = _name(call.func)
            if name in family:
                target = _Forwarder(0, frozenset(), frozenset(), False)
            elif name in forwarders:
                target = forwarders[name]
            else:
                continue
            place = f"{path}:{call.lineno}"
            codes = _codes(_code_of(call, target.position), function)
            if codes is None:
                unclear.append(place)
                continue
            keywords = {word.arg for word in call.keywords if word.arg}
            details = frozenset(keywords) - STANDARD - {"code"} - target.parameters | target.details
            details |= _added(function)
            more = target.open or any(word.arg is None for word in call.keywords)
            found += [Raised(code, room, place, details, more) for code in codes]
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


def _forwarders(trees: list[ast.Module], family: frozenset[str]) -> dict[str, _Forwarder]:
    found: dict[str, _Forwarder] = {}
    for tree in trees:
        for function, call in _calls(tree):
            if function is None or _name(call.func) not in family or function.name == "__init__":
                continue
            code = _code_of(call, 0)
            names = [arg.arg for arg in (*function.args.posonlyargs, *function.args.args)]
            names = names[1:] if names[:1] in (["self"], ["cls"]) else names
            every = {*names, *(arg.arg for arg in function.args.kwonlyargs)}
            if not (isinstance(code, ast.Name) and code.id == "code" and "code" in every):
                continue
            passed_on = function.args.kwarg.arg if function.args.kwarg else None
            own = [word for word in call.keywords if word.arg]
            starred = [word.value for word in call.keywords if word.arg is None]
            found[function.name] = _Forwarder(
                position=names.index("code") if "code" in names else -1,
                parameters=frozenset(every),
                details=frozenset(str(word.arg) for word in own) - STANDARD | _added(function),
                open=any(not (isinstance(value, ast.Name) and value.id == passed_on) for value in starred),
            )
    return found


def _added(function: Function | None) -> frozenset[str]:
    """Details a function adds to an error it has made: ``error.details |= {"before": ...}``."""
    dicts = [
        node.value
        for node in (ast.walk(function) if function else ())
        if isinstance(node, ast.AugAssign)
        and _name(node.target) == "details"
        and isinstance(node.value, ast.Dict)
    ]
    keys = [key for found in dicts for key in found.keys]
    return frozenset(str(key.value) for key in keys if isinstance(key, ast.Constant))


def _calls(tree: ast.AST, function: Function | None = None) -> Iterator[tuple[Function | None, ast.Call]]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Call):
            yield function, node
        yield from _calls(node, node if isinstance(node, Function) else function)


def _name(node: ast.AST) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _code_of(call: ast.Call, position: int) -> ast.expr | None:
    for word in call.keywords:
        if word.arg == "code":
            return word.value
    return call.args[position] if 0 <= position < len(call.args) else None


def _codes(node: ast.expr | None, function: Function | None) -> set[str] | None:
    """Codes an expression can be; empty when it only hands on a code; None when that cannot be told."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return {node.value}
    if isinstance(node, ast.IfExp):
        one, other = _codes(node.body, function), _codes(node.orelse, function)
        return None if one is None or other is None else one | other
    if isinstance(node, ast.Attribute) and node.attr == "code":
        return set()
    if isinstance(node, ast.Name) and function is not None:
        arguments = function.args
        names = {arg.arg for arg in (*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs)}
        if node.id in names:
            return set() if node.id == "code" else None
        return _assigned(node.id, function)
    return None


def _assigned(name: str, function: Function) -> set[str] | None:
    values = [
        _codes(node.value, function)
        for node in ast.walk(function)
        if isinstance(node, ast.Assign) and any(_name(target) == name for target in node.targets)
    ]
    told = [value for value in values if value is not None]
    return set().union(*told) if told and len(told) == len(values) else None
