"""Entries that name something the catalogue lists: an instrument, a bed. And dates."""

import datetime
from dataclasses import dataclass
from typing import Any

from pydantic import GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from ramwright.catalogue import find_key, table
from ramwright.catalogue.lookup import plain_words
from ramwright.errors import InputError
from ramwright.site.fields import RefusedError


class _Checked:
    """A text that is checked on the way in and kept as typed."""

    def read(self, given: object) -> str:
        """The text; raises ``RefusedError``."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        """Checked on the way in, as typed on the way out."""
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )


@dataclass(frozen=True, slots=True)
class Listed(_Checked):
    """Marks a field as something that ``table`` lists, by its key or its words.

    ``quantities``: only rows that state one of these; ``examples``: for people.
    """

    table: str
    quantities: tuple[str, ...] = ()
    examples: tuple[str, ...] = ()

    def read(self, given: object) -> str:
        """The name as typed; raises ``RefusedError`` for one that is not listed or does not serve here."""
        if not isinstance(given, str):
            raise RefusedError(InputError("wrong_type_text"))
        try:
            key = find_key(self.table, given[:200])
        except InputError as error:
            raise RefusedError(
                InputError("not_listed", value=given, closest=error.details["closest"])
            ) from None
        if self.quantities and key not in self.fit():
            raise RefusedError(InputError("instrument_unfit", value=given, fit=self.fit()))
        return given

    def fit(self) -> tuple[str, ...]:
        """Keys of the rows that serve here."""
        rows = (row for row in table(self.table) if row.text("quantity") in self.quantities)
        return tuple(dict.fromkeys(row.text(table(self.table).key[0]) for row in rows))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A text."""
        return {"type": "string", "examples": list(self.examples)}


@dataclass(frozen=True, slots=True)
class DateText(_Checked):
    """Marks a field as a date: ``2024-09-14``, in quotes or not."""

    def read(self, given: object) -> str:
        """The date as year, month, day; raises ``RefusedError``."""
        if isinstance(given, datetime.date) and not isinstance(given, datetime.datetime):
            return given.isoformat()
        try:
            if isinstance(given, str):
                return datetime.date.fromisoformat(given.strip()).isoformat()
        except ValueError:
            pass
        raise RefusedError(InputError("date_unclear"))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A text."""
        return {"type": "string", "examples": ["2024-09-14"]}


@dataclass(frozen=True, slots=True)
class Word(_Checked):
    """Marks a field as one of a few words; after each, parted by "|", other words for it."""

    words: tuple[str, ...]

    @property
    def ours(self) -> tuple[str, ...]:
        """Our words."""
        return tuple(word.partition("|")[0] for word in self.words)

    def read(self, given: object) -> str:
        """Our word; raises ``RefusedError``."""
        if not isinstance(given, str):
            raise RefusedError(InputError("wrong_type_text"))
        for ours, words in zip(self.ours, self.words, strict=True):
            if plain_words(given) in map(plain_words, words.split("|")):
                return ours
        raise RefusedError(InputError("not_one_of", value=given, allowed=self.ours))

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """One of our words."""
        return {"type": "string", "enum": list(self.ours)}
