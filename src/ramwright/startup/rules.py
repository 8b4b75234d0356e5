"""The trade's rules of starting, by name, from the catalogue."""

from __future__ import annotations

from ramwright.catalogue import Figure, Row, table


def rule_row(name: str) -> Row:
    """The row of ``startup_rules`` named ``name``, with its source and mark."""
    return table("startup_rules").row(name)


def rule(name: str) -> Figure:
    """Low, likely and high of the rule ``name``, SI."""
    return rule_row(name).figure


def least(name: str) -> float:
    """The lower limit the rule ``name`` states, SI."""
    return rule_row(name).number("low")
