"""The document of a site: read from a sheet, checked, written again; what was typed is kept as typed."""

from ramwright.site.complete import facts_complete
from ramwright.site.intake_models import Intake, Profiles, Route
from ramwright.site.line_models import DrivePipeSupport, DriveTank, Overflow, Pipe, Tank
from ramwright.site.models import SCHEMA_VERSION, Facts, Place, Site
from ramwright.site.parts import InputNote
from ramwright.site.problems import SheetErrors
from ramwright.site.ram_models import AirVessel, DeliveryValve, Ram, Snifter, WasteValve
from ramwright.site.read import read_sheet, read_sheet_bytes, read_sheet_text, site_from_entries
from ramwright.site.schema import json_schema
from ramwright.site.starter import starter_sheet
from ramwright.site.write import write_sheet

__all__ = [
    "SCHEMA_VERSION",
    "AirVessel",
    "DeliveryValve",
    "DrivePipeSupport",
    "DriveTank",
    "Facts",
    "InputNote",
    "Intake",
    "Overflow",
    "Pipe",
    "Place",
    "Profiles",
    "Ram",
    "Route",
    "SheetErrors",
    "Site",
    "Snifter",
    "Tank",
    "WasteValve",
    "facts_complete",
    "json_schema",
    "read_sheet",
    "read_sheet_bytes",
    "read_sheet_text",
    "site_from_entries",
    "starter_sheet",
    "write_sheet",
]
