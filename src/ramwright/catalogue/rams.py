"""Rams built from plain plumbing parts, how they are held, and the coefficients of their valves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from ramwright.catalogue.loader import closest, table
from ramwright.catalogue.lookup import find_key, find_row
from ramwright.catalogue.provenance import Figure
from ramwright.catalogue.spelling import read_spelling
from ramwright.errors import InputError


@dataclass(frozen=True, slots=True)
class WasteValve:
    """A waste valve as built; lengths m, ``closing_weight_n`` N, ``moving_mass_kg`` kg.

    ``kind`` is ``swing check`` or ``weighted poppet``. Weight and mass are those felt at the middle of the
    disc, under water, added weights included; ``stroke_m`` is the travel of the middle of the disc;
    ``swing_arm_m`` runs from the hinge to it (None for a poppet).
    """

    kind: str
    port_m: Figure
    disc_m: Figure
    stroke_m: Figure
    closing_weight_n: Figure
    moving_mass_kg: Figure
    swing_arm_m: Figure | None


@dataclass(frozen=True, slots=True)
class ShopRam:
    """A shop-built ram of one size; lengths m, volumes m3, flows m3/s, lag s, mass kg.

    ``source_flow_m3_s`` is what it drinks running steadily, ``most_delivery_m3_s`` what it delivers in
    ideal conditions; ``delivery_valve_loss`` is K on the velocity through the valve's own port.
    """

    size: str
    bore_m: Figure
    source_flow_m3_s: Figure
    most_delivery_m3_s: Figure
    delivery_port_m: Figure
    delivery_valve_loss: Figure
    delivery_valve_lag_s: Figure
    snifter_hole_m: Figure
    air_vessel_m3: Figure
    body_volume_m3: Figure
    body_mass_kg: Figure
    waste_valves: tuple[WasteValve, ...]

    def waste_valve(self, kind: str) -> WasteValve:
        """The waste valve of this ``kind``; ``InputError`` naming the kinds there are."""
        for valve in self.waste_valves:
            if valve.kind == kind:
                return valve
        kinds = tuple(valve.kind for valve in self.waste_valves)
        raise InputError("waste_valve_unknown", field="waste_valve", value=kind, choices=kinds)


@dataclass(frozen=True, slots=True)
class Mount:
    """How a ram is held: mass moving with it (kg), stiffness (N/m), share of critical damping."""

    key: str
    added_mass_kg: Figure
    stiffness_n_m: Figure
    damping_ratio: Figure


def shop_ram_sizes() -> tuple[str, ...]:
    """Sizes of shop-built rams, small to large."""
    return tuple(dict.fromkeys(row.text("size") for row in table("shop_rams")))


def _figures(size: str, valve: str) -> Mapping[str, Figure]:
    return {row.text("quantity"): row.figure for row in table("shop_rams").where(size=size, valve=valve)}


@cache
def shop_ram(size: str) -> ShopRam:
    """The shop-built ram of ``size`` (``"2 in"``, ``'1-1/4"'``, ``"2"``: inches).

    Raises ``InputError`` naming the closest sizes when there is none.
    """
    known = {read_spelling(label).sizes[0].number: label for label in shop_ram_sizes()}
    read = read_spelling(size)
    inches = read.sizes[0] if len(read.sizes) == 1 and not read.strange and not read.features else None
    label = known.get(inches.number) if inches and inches.unit in {"inch", "bare"} else None
    if label is None:
        near = closest(size, shop_ram_sizes())
        raise InputError("shop_ram_unknown", field="ram", value=size, closest=near, known=shop_ram_sizes())
    plain = _figures(label, "any")
    return ShopRam(
        label,
        plain["bore"],
        plain["source_flow"],
        plain["most_delivery"],
        plain["delivery_port"],
        plain["delivery_valve_loss"],
        plain["delivery_valve_lag"],
        plain["snifter_hole"],
        plain["air_vessel_volume"],
        plain["body_volume"],
        plain["body_mass"],
        tuple(_waste_valve(label, kind) for kind in ("swing check", "weighted poppet")),
    )


def _waste_valve(size: str, kind: str) -> WasteValve:
    of = _figures(size, kind)
    return WasteValve(
        kind,
        of["port"],
        of["disc"],
        of["stroke"],
        of["closing_weight"],
        of["moving_mass"],
        of.get("swing_arm"),
    )


@cache
def mount(key: str) -> Mount:
    """The mount called ``key`` or by words for it (``"strapped to a board"``); ``InputError`` if none."""
    name = find_key("mounts", key, field="mount")
    of = {row.text("quantity"): row.figure for row in table("mounts").where(mount=name)}
    return Mount(name, of["added_mass"], of["stiffness"], of["damping_ratio"])


def valve_coefficient(key: str) -> Figure:
    """A coefficient of ram valves by its name in the table ``valve_coefficients``; ``InputError`` if none."""
    return find_row("valve_coefficients", key).figure


def fitting_loss(key: str) -> Figure:
    """Loss coefficient K of a fitting by its key or by the words on the sheet; ``InputError`` if none.

    The loss is K v^2 / 2 g on the velocity in the fitting's pipe.
    """
    return find_row("fittings", key, field="fitting").figure
