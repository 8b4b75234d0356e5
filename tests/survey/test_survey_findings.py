"""Findings carry the numbers their code promises, and no code is promised that nothing makes."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import ramwright.survey
from ramwright.survey import FINDINGS, found

SOURCE = Path(ramwright.survey.__file__).parent


def _texts() -> set[str]:
    """Every text in the room's code outside the list of findings itself."""
    out: set[str] = set()
    for path in SOURCE.glob("*.py"):
        if path.name != "findings.py":
            tree = ast.parse(path.read_text("utf-8"))
            out |= {
                node.value
                for node in ast.walk(tree)
                if isinstance(node, ast.Constant) and isinstance(node.value, str)
            }
    return out


def test_every_listed_code_is_made_somewhere() -> None:
    assert set(FINDINGS) - _texts() == set()


def test_a_finding_with_other_numbers_than_listed_is_a_fault() -> None:
    with pytest.raises(ValueError, match="run_one_way"):
        found("run_one_way", "run")
    with pytest.raises(ValueError, match="unheard_of"):
        found("unheard_of", "run")
    finding = found("run_one_way", "run", rise_m=2.0)
    assert finding.number("rise_m") == 2.0
    with pytest.raises(KeyError):
        finding.number("fall_m")


def test_this_room_carries_no_prose() -> None:
    """Sentences are made in the wording room: a finding's code has no blank and no capital."""
    for code in FINDINGS:
        assert code == code.lower()
        assert " " not in code
