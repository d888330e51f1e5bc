"""Which reference values and factors a piece of timber has by North American practice."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.rules.nds_2018 import values
from evenfoot.strength.standards.practice import Figure, Part, Piece, Stress
from evenfoot.tables import strength_us

_INCH = 25.4
_PLY = 1.5 * _INCH
_PLAY = 0.15 * _INCH
_PLIES = (2, 3, 4)
_THICK = 4
"""Nominal thickness above which a solid piece is a timber [in, a name]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A piece as it is sold: its reference values, and the factors that its size, use and treatment bring [-].

    ``thickness`` and ``depth`` are nominal [in, names]; ``plies`` is 1 for a solid piece.
    """

    lumber: strength_us.Lumber
    plies: int
    thickness: int
    depth: int
    size: float
    size_along: float
    flat: float
    repeated: float
    is_incised: bool
    doubts: tuple[str, ...]
    """Named where it is not confirmed that the wood goes by this name."""

    @property
    def stoutness(self) -> float:
        """Nominal depth over width [-]."""
        return self.depth / (self.plies * self.thickness)

    @property
    def name(self) -> str:
        """The size by its nominal name, as ``2x10``."""
        return f"{self.thickness}x{self.depth}"


@cache
def find_stock(piece: Piece) -> Stock:
    """Return the piece as it is sold.

    Raises: OutOfRangeError: ``species-not-in-standard``, ``grade-not-in-standard`` or ``size-not-in-standard``.
    """
    name = strength_us.name_of(piece.species)
    plies, thickness, depth = _nominal(piece)
    is_timber = plies == 1 and thickness > _THICK
    lumber = strength_us.lumber(species=name.species, grade=piece.grade, nominal_depth=depth, is_timber=is_timber)
    if is_timber and not _is_post_shaped(piece) and name.species != "southern_pine":
        raise OutOfRangeError(_no_size(piece, allowed="posts and timbers: depth up to width + 2 in"))
    row = strength_us.size_row(depth)
    is_thick = thickness == _THICK and piece.part is not Part.BOARD
    return Stock(
        lumber=lumber,
        plies=plies,
        thickness=thickness,
        depth=depth,
        size=(row.bending_thick if is_thick else row.bending) if lumber.is_sized else 1.0,
        size_along=row.along if lumber.is_sized else 1.0,
        flat=row.flat if piece.part is Part.BOARD else 1.0,
        repeated=_repeated(piece, plies),
        is_incised=name.is_incised and not is_timber,
        doubts=() if name.is_confirmed else (f"{piece.species} as {name.species}",),
    )


def strength(stress: Stress, stock: Stock, lasts: str) -> Figure:
    """Return the adjusted design value for a load that lasts so long [N/mm2], but for C_L, C_b and C_P."""
    return _strength(stress, stock, lasts)


def bent_modulus(stock: Stock) -> Figure:
    """Return 1.03 E' [N/mm2]."""
    wet = _wet("modulus", stock)
    adjusted = values.modulus(E=stock.lumber.modulus, C_M=wet.value, C_i=_incised("modulus", stock).value)
    return Figure(value=values.bent_modulus(E=adjusted), doubts=wet.doubts)


def buckling_modulus(stock: Stock) -> Figure:
    """Return E_min' [N/mm2]."""
    wet = _wet("modulus", stock)
    doubts = () if stock.lumber.is_along_confirmed else (f"{stock.lumber.species} E_min",)
    value = values.modulus(E=stock.lumber.buckling, C_M=wet.value, C_i=_incised("modulus", stock).value)
    return Figure(value=value, doubts=doubts + wet.doubts)


def figure(name: str) -> Figure:
    """Return a figure on record, with its doubt if it is not confirmed."""
    found = strength_us.factor(name)
    return Figure(value=found.value, doubts=doubts_of(found))


def doubts_of(*found: strength_us.Figure) -> tuple[str, ...]:
    """Return the names of those figures that are not confirmed."""
    return tuple(f.name for f in found if not f.is_confirmed)


@cache
def _strength(stress: Stress, stock: Stock, lasts: str) -> Figure:
    lumber = stock.lumber
    duration = figure(f"duration.{lasts}")
    own = () if lumber.is_confirmed else (f"{lumber.species} {lumber.grade}",)
    if stress is Stress.BENDING:
        wet = _wet("bending", stock, lumber.bending * stock.size)
        value = values.bending(
            F_b=lumber.bending,
            C_D=duration.value,
            C_M=wet.value,
            C_L=1.0,
            C_F=stock.size,
            C_fu=stock.flat,
            C_i=_incised("strength", stock).value,
            C_r=stock.repeated,
        )
    elif stress is Stress.SHEAR:
        wet = _wet("shear", stock)
        incised = _incised("strength", stock)
        value = values.shear(F_v=lumber.shear, C_D=duration.value, C_M=wet.value, C_i=incised.value)
    elif stress is Stress.ALONG:
        own = () if lumber.is_along_confirmed else own
        wet = _wet("along", stock, lumber.along * stock.size_along)
        value = values.along(
            F_c=lumber.along,
            C_D=duration.value,
            C_M=wet.value,
            C_F=stock.size_along,
            C_i=_incised("strength", stock).value,
        )
    else:
        wet = _wet("across", stock)
        value = values.across(F_cp=lumber.across, C_M=wet.value, C_i=_incised("across", stock).value, C_b=1.0)
    return Figure(value=value, doubts=own + stock.doubts + wet.doubts + duration.doubts)


def _wet(kind: str, stock: Stock, sized: float | None = None) -> Figure:
    """Return C_M; ``sized`` is the value times its size factor, which below a limit is not reduced [N/mm2]."""
    if stock.lumber.is_timber:
        if not stock.lumber.is_sized and stock.lumber.species == "southern_pine":
            return Figure(value=1.0)
        return figure(f"wet-timber.{'bending' if kind == 'shear' else kind}")
    if sized is not None and sized <= strength_us.factor(f"wet.{kind}-free").value * (1.0 + 1e-9):
        return Figure(value=1.0)
    return figure(f"wet.{kind}")


def _incised(kind: str, stock: Stock) -> Figure:
    return figure(f"incised.{kind}") if stock.is_incised else Figure(value=1.0)


def _nominal(piece: Piece) -> tuple[int, int, int]:
    """Return plies, nominal thickness and nominal depth; the depth of a board lies along its face."""
    if piece.part is Part.POST:
        thin, deep = min(piece.width, piece.depth), max(piece.width, piece.depth)
    elif piece.part is Part.BOARD:
        thin, deep = piece.depth, piece.width
    else:
        thin, deep = piece.width, piece.depth
    plies = _plies(thin) if piece.part in {Part.JOIST, Part.BEAM} else 1
    thickness, depth = strength_us.nominal_of(thin / plies), strength_us.nominal_of(deep)
    if thin < _PLY - _PLAY or thickness is None or depth is None:
        raise OutOfRangeError(_no_size(piece, allowed="1 1/2 in thick and up, 13 1/4 in deep at most"))
    return plies, thickness, depth


def _plies(width: float) -> int:
    return next((n for n in _PLIES if abs(width - n * _PLY) <= 1.0), 1)


def _is_post_shaped(piece: Piece) -> bool:
    return abs(piece.depth - piece.width) <= 2.0 * _INCH + 1.0


def _repeated(piece: Piece, plies: int) -> float:
    rule, far = strength_us.factor("repeated.factor"), strength_us.factor("repeated.spacing")
    is_close = piece.part is Part.JOIST and piece.pitch <= far.value + 1.0
    is_thin = piece.width <= 3.5 * _INCH + _PLAY
    many = plies >= strength_us.factor("repeated.count").value
    return rule.value if many or (is_close and is_thin) else 1.0


def _no_size(piece: Piece, *, allowed: str) -> Fault:
    found = f"{piece.width / _INCH:.3g} x {piece.depth / _INCH:.3g} in"
    return Fault(where=piece.part.value, code="size-not-in-standard", found=found, allowed=allowed)
