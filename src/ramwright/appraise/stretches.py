"""Pieces of pipe on the sheet as numbers: bore, wall, stiffness, roughness, rating, fittings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ramwright.appraise.assume import Assumption, Ledger
from ramwright.catalogue import Joint, Mark, Material, fitting_loss, joint, match_pipe, material
from ramwright.catalogue import Pipe as CataloguePipe
from ramwright.errors import InputError
from ramwright.site import Pipe

_FITTINGS = {
    "bends_45": "elbow-45",
    "bends_90": "elbow-90",
    "gate_valves": "gate-valve",
    "ball_valves": "ball-valve",
}
#: Wall taken for a pipe given by its bore alone, as a share of the bore; put on record where used.
_METAL_WALL, _PLASTIC_WALL = 0.08, 0.10
_METALS = ("steel", "copper")
#: Roughness over bore up to which the law of friction holds (see ``hydraulics.friction.darcy_factor``).
_ROUGHEST = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One stretch of a line, SI. ``rating`` in Pa is None where the sheet gives only measures.

    ``loss`` is the sum of its fittings' loss coefficients on the velocity in its own bore; ``bends`` how
    many bends of which angle (rad). ``pipe`` is the catalogue's, where it is named; ``joint`` how it is
    joined, ``supports_every`` m and ``buried`` m, where the sheet says so.
    """

    field: str
    name: str
    length: float
    bore: float
    wall: float
    material: str
    plastic: bool
    modulus: float
    poisson: float
    roughness: float
    loss: float
    free_air: float
    air_pocket: float
    creep_share: float
    creep_time: float
    rating: float | None
    rating_temp_c: float
    family: str
    pipe: CataloguePipe | None
    joint: Joint | None
    bends: tuple[tuple[float, int], ...]
    supports_every: float | None
    buried: float | None

    @property
    def area(self) -> float:
        """Area of the bore, m2."""
        return math.pi * self.bore**2 / 4.0


def _joint(piece: Pipe, field: str, family: str, name: str) -> Joint | None:
    if piece.joint is None:
        return None
    try:
        found = joint(piece.joint)
    except InputError as error:
        error.field = f"{field}.joint"
        raise
    if family not in found.families:
        raise InputError("joint_not_for_pipe", field=f"{field}.joint", value=piece.joint, pipe=name)
    return found


def _fittings(piece: Pipe) -> float:
    total = piece.loss.value if piece.loss is not None else 0.0
    for name, fitting in _FITTINGS.items():
        count = getattr(piece, name)
        if count:
            total += count * fitting_loss(fitting).likely
    return total


def _stuff(text: str, field: str) -> Material:
    try:
        return material(text)
    except InputError as error:
        error.field = field
        raise


def stretch(piece: Pipe, field: str, ledger: Ledger) -> Stretch:
    """One piece of pipe as numbers; ``field`` is its dotted path on the sheet."""
    rating, rating_temp = None, 20.0
    listed: CataloguePipe | None = None
    if piece.series is not None and piece.size is not None:
        listed = match_pipe(piece.series, piece.size, field=f"{field}.pipe").pipe
        bore, wall, stuff, name = listed.id_m, listed.wall_m, material(listed.material), listed.name
        rating, rating_temp, roughness = listed.rating_pa, listed.rating_temp_c, stuff.roughness_new.likely
    else:
        assert piece.bore is not None
        bore = piece.bore.value
        if piece.material is None:
            raise InputError("material_missing", field=f"{field}.material")
        stuff = _stuff(piece.material, f"{field}.material")
        name = piece.material
        if piece.wall is not None:
            wall = piece.wall.value
        else:
            wall = bore * (_METAL_WALL if stuff.family in _METALS else _PLASTIC_WALL)
            ledger.entries.append(Assumption(f"{field}.wall", wall, "small_length", Mark.JUDGEMENT))
        roughness = ledger.reading(piece.roughness, f"{field}.roughness", stuff.roughness_new, "small_length")
    if roughness > _ROUGHEST * bore:
        typed = piece.roughness.text if piece.roughness is not None else stuff.title
        raise InputError("roughness_too_large", field=f"{field}.roughness", value=typed, bore=bore)
    return Stretch(
        field=field,
        name=name,
        length=piece.length.value,
        bore=bore,
        wall=wall,
        material=stuff.key,
        plastic=stuff.family not in _METALS,
        modulus=stuff.modulus_short.likely,
        poisson=stuff.poisson.likely,
        roughness=roughness,
        loss=_fittings(piece),
        free_air=piece.free_air.value if piece.free_air is not None else 0.0,
        air_pocket=piece.air_pocket.value if piece.air_pocket is not None else 0.0,
        creep_share=stuff.creep_share.likely,
        creep_time=stuff.creep_time.likely,
        rating=rating,
        rating_temp_c=rating_temp,
        family=stuff.family,
        pipe=listed,
        joint=_joint(piece, field, stuff.family, name),
        bends=tuple((angle, count) for angle, count in _bends(piece) if count),
        supports_every=piece.supports_every.value if piece.supports_every is not None else None,
        buried=piece.buried.value if piece.buried is not None else None,
    )


def _bends(piece: Pipe) -> tuple[tuple[float, int], ...]:
    return ((math.pi / 4.0, piece.bends_45 or 0), (math.pi / 2.0, piece.bends_90 or 0))


def stretches(pieces: Sequence[Pipe], field: str, ledger: Ledger) -> tuple[Stretch, ...]:
    """All pieces of a line in order."""
    return tuple(stretch(piece, f"{field}[{i}]", ledger) for i, piece in enumerate(pieces))
