"""Verdicts on the field book: its findings, under ``survey_<code>``."""

from __future__ import annotations

from typing import Final

from ramwright.wording.findings import TEMPLATES as FINDINGS
from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {f"survey_{code}": said for code, said in FINDINGS.items()}
"""Sentences by code."""
