"""How points are joined: what hangs together, and which legs close on each other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set

Edge = tuple[str, str]


def _neighbours(edges: Iterable[Edge]) -> dict[str, list[tuple[str, int]]]:
    near: dict[str, list[tuple[str, int]]] = {}
    for i, (a, b) in enumerate(edges):
        near.setdefault(a, []).append((b, i))
        near.setdefault(b, []).append((a, i))
    return near


def reached_from(starts: Set[str], edges: Sequence[Edge]) -> set[str]:
    """All points joined by ``edges`` to any of ``starts``, those included."""
    near = _neighbours(edges)
    seen = set(starts)
    queue = list(starts)
    while queue:
        for other, _ in near.get(queue.pop(), ()):
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return seen


def blocks_of(edges: Sequence[Edge], held: Set[str]) -> list[list[int]]:
    """Sets of edge numbers that close on each other; an edge in no loop is a set by itself.

    The blocks (biconnected components) of the graph in which all ``held`` points are one. Hopcroft & Tarjan
    1973, Algorithm 447 (from memory), without recursion so that a long line cannot exhaust the stack. An edge
    between two held points is a block by itself.
    """
    ground = min(held) if held else ""
    merged = [(ground if a in held else a, ground if b in held else b) for a, b in edges]
    near = _neighbours(merged)
    depth: dict[str, int] = {}
    low: dict[str, int] = {}
    blocks = [[i] for i, (a, b) in enumerate(merged) if a == b]
    open_edges: list[int] = []
    for root in near:
        if root in depth:
            continue
        depth[root] = low[root] = 0
        stack: list[tuple[str, int, int]] = [(root, -1, 0)]
        while stack:
            point, came_by, at = stack.pop()
            if at < len(near[point]):
                stack.append((point, came_by, at + 1))
                other, edge = near[point][at]
                if edge == came_by or other == point:
                    continue
                if other not in depth:
                    depth[other] = low[other] = depth[point] + 1
                    open_edges.append(edge)
                    stack.append((other, edge, 0))
                elif depth[other] < depth[point]:
                    open_edges.append(edge)
                    low[point] = min(low[point], depth[other])
            elif came_by >= 0:
                parent = stack[-1][0]
                low[parent] = min(low[parent], low[point])
                if low[point] >= depth[parent]:
                    block = [open_edges.pop()]
                    while block[-1] != came_by:
                        block.append(open_edges.pop())
                    blocks.append(block)
    return blocks


def bridges_between(
    start: str, end: str, edges: Sequence[Edge], blocks: Sequence[Sequence[int]]
) -> list[int]:
    """Edges that alone join ``start`` to ``end``: a mistake in one of them is seen by nothing.

    ``blocks`` as ``blocks_of`` gives them for the same edges.
    """
    alone = {block[0] for block in blocks if len(block) == 1}
    near = _neighbours(edges)
    came: dict[str, tuple[str, int]] = {}
    queue = [start]
    seen = {start}
    while queue and end not in seen:
        point = queue.pop()
        for other, edge in near.get(point, ()):
            if other not in seen:
                seen.add(other)
                came[other] = (point, edge)
                queue.append(other)
    out = []
    while end in came:
        end, edge = came[end]
        if edge in alone:
            out.append(edge)
    return out
