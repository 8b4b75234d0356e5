"""From matplotlib's SVG to ours: small, described, free of anything that differs from run to run.

Styles become attributes, so that a page may forbid inline styles; text stays text, in one font stack
named at the top; ids nobody refers to, clock and maker are dropped; the picture gets a title and a
description for those who hear it.
"""

from __future__ import annotations

import hashlib
import re
from typing import Final
from xml.etree import ElementTree as ET

_NAMESPACE: Final = "{http://www.w3.org/2000/svg}"
_FONTS: Final = "'DejaVu Sans', system-ui, sans-serif"
_DROPPED: Final = frozenset({"metadata", "style"})
_LONG: Final = re.compile(r"-?\d+\.\d{2,}")
_MEASURED: Final = frozenset({"d", "x", "y", "transform", "stroke-width", "points"})


def tidy(text: str, *, title: str, description: str) -> str:
    """The SVG ``text`` matplotlib made at 72 dots an inch, as described at the top of this file."""
    root = ET.fromstring(text)
    _plain(root)
    width, height = (float(part) for part in root.attrib["viewBox"].split()[2:])
    mark = hashlib.sha256(f"{title}\n{description}\n{text}".encode()).hexdigest()[:8]
    root.attrib = {
        "xmlns": _NAMESPACE[1:-1],
        "viewBox": f"0 0 {width:g} {height:g}",
        "width": f"{width:g}",
        "height": f"{height:g}",
        "role": "img",
        "aria-labelledby": f"title-{mark} about-{mark}",
        "font-family": _FONTS,
        "stroke-linejoin": "round",
    }
    for position, (tag, words) in enumerate((("title", title), ("desc", description))):
        told = ET.Element(tag, {"id": f"{'about' if tag == 'desc' else tag}-{mark}"})
        told.text = words
        root.insert(position, told)
    ET.indent(root, space=" ")
    return ET.tostring(root, encoding="unicode") + "\n"


def _plain(node: ET.Element) -> None:
    """Strip one element and all below it, unwrapping groups that say nothing."""
    node.tag = node.tag.removeprefix(_NAMESPACE)
    style = node.attrib.pop("style", "")
    for rule in filter(None, (part.strip() for part in style.split(";"))):
        name, _, value = rule.partition(":")
        if name.strip() != "font-family":
            node.set(name.strip(), value.strip())
    node.attrib.pop("id", None)
    for name in _MEASURED & node.attrib.keys():
        node.set(name, " ".join(_LONG.sub(_shorter, node.attrib[name]).split()))
    if node.get("transform", "").startswith("rotate(-0 "):
        del node.attrib["transform"]
    children: list[ET.Element] = []
    for child in list(node):
        _plain(child)
        if child.tag == "g" and not child.attrib:
            children += list(child)
        elif child.tag not in _DROPPED and not (child.tag == "defs" and not len(child)):
            children.append(child)
    node[:] = children
    node.tail = None
    if node.tag != "text":
        node.text = None


def _shorter(number: re.Match[str]) -> str:
    """A number to a tenth of a pixel in the thousands and a hundredth below ten, no minus before zero."""
    value = float(number[0])
    return f"{round(value, 2 if abs(value) < 10.0 else 1) + 0.0:.6g}"
