"""Use cases: one call in, one result out."""

from ramwright.services.answer import answer, answer_schema
from ramwright.services.appraise_sheet import appraise_sheet, show_beat

__all__ = ["answer", "answer_schema", "appraise_sheet", "show_beat"]
