"""Use cases: one call in, one result out. Pictures are in ``services.pictures``."""

from ramwright.services.answer import answer, answer_schema
from ramwright.services.appraise_sheet import SimulatedBeat, appraise_sheet, simulate_beat

__all__ = ["SimulatedBeat", "answer", "answer_schema", "appraise_sheet", "simulate_beat"]
