"""Published tables as data files, each row with its source and how it got here.

Pipe, materials, joints, fittings, shop-built rams, instruments, and the rules of the trade: everything a
verdict may lean on. ``table(name)`` gives any of them; the functions here give the ones with a shape.
Figures are SI. Nothing is read from disk before it is asked for, and then once.
"""

from ramwright.catalogue.joints import Joint, Part, joint, joint_pressure, parts, pipe_pressure, weakest
from ramwright.catalogue.loader import closest, read_table, sources, table, table_names
from ramwright.catalogue.lookup import find_key, find_row
from ramwright.catalogue.materials import (
    Material,
    material,
    rating_at,
    temperature_factor,
    weakest_mark,
)
from ramwright.catalogue.pipes import Pipe, PipeMatch, find_pipe, match_pipe, pipes
from ramwright.catalogue.provenance import Figure, Mark, Provenance, Source
from ramwright.catalogue.rams import (
    Mount,
    ShopRam,
    WasteValve,
    fitting_loss,
    mount,
    shop_ram,
    shop_ram_sizes,
    valve_coefficient,
)
from ramwright.catalogue.rows import Row, Table

__all__ = [
    "Figure",
    "Joint",
    "Mark",
    "Material",
    "Mount",
    "Part",
    "Pipe",
    "PipeMatch",
    "Provenance",
    "Row",
    "ShopRam",
    "Source",
    "Table",
    "WasteValve",
    "closest",
    "find_key",
    "find_pipe",
    "find_row",
    "fitting_loss",
    "joint",
    "joint_pressure",
    "match_pipe",
    "material",
    "mount",
    "parts",
    "pipe_pressure",
    "pipes",
    "rating_at",
    "read_table",
    "shop_ram",
    "shop_ram_sizes",
    "sources",
    "table",
    "table_names",
    "temperature_factor",
    "valve_coefficient",
    "weakest",
    "weakest_mark",
]
