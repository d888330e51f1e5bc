"""The closed lists that a job may choose from; each value is the word written in the file."""

from __future__ import annotations

from enum import StrEnum


class Unit(StrEnum):
    """Unit of a bare number in a file."""

    MM = "mm"
    CM = "cm"
    M = "m"
    INCH = "in"
    FOOT = "ft"
    SHAKU = "shaku"


class Standard(StrEnum):
    """Design standard of the strength checks."""

    JAPAN = "japan"
    EUROPE = "europe"
    NORTH_AMERICA = "north-america"


class Ground(StrEnum):
    """What the footings stand on."""

    SLAB = "slab"
    PAVING = "paving"
    GRAVEL = "gravel"
    SOIL = "soil"
    ROCK = "rock"


class Soil(StrEnum):
    """What lies under the footings, as the standards sort it."""

    ROCK = "rock"
    SOFT_ROCK = "soft-rock"
    CEMENTED_SAND = "cemented-sand"
    DENSE_GRAVEL = "dense-gravel"
    DENSE_SAND = "dense-sand"
    SAND = "sand"
    STIFF_CLAY = "stiff-clay"
    CLAY = "clay"
    STIFF_LOAM = "stiff-loam"
    LOAM = "loam"


class Holding(StrEnum):
    """What keeps the floor from swaying in one direction."""

    BUILDING = "building"
    """Tied to a building that stands by itself."""
    BRACES = "braces"
    LOW_RAILS = "low-rails"
    """Rails through or across the posts near their feet (nuki, negarami)."""
    POSTS_IN_CONCRETE = "posts-in-concrete"
    NOTHING = "nothing"


class RoofSnow(StrEnum):
    """What the snow on the roof above does."""

    NONE = "none"
    """No roof slopes towards the floor."""
    HELD = "held"
    """Snow guards hold it."""
    SLIDES = "slides"
    """It comes down on the floor."""


class LedgerFixing(StrEnum):
    """What holds a ledger to the rim of a house."""

    LAG_HALF = "half-inch-lags"
    BOLT_HALF = "half-inch-bolts"
    BOLT_HALF_SPACED = "half-inch-bolts-spaced"
    """With half an inch of washers between ledger and sheathing."""


class Surface(StrEnum):
    """How levels between readings are found: one tilted plane, or triangles from reading to reading."""

    PLANE = "plane"
    TRIANGLES = "triangles"


class Closing(StrEnum):
    """Who gives way so that a run of boards closes."""

    EVEN_GAP = "even-gap"
    RIP_LAST = "rip-last"
    RIP_BOTH = "rip-both"
    MOVE_OUTLINE = "move-outline"


class Style(StrEnum):
    """How the frame is built: tops in one plane, joists on beams, or joists in metal hangers."""

    FLUSH = "flush"
    STACKED = "stacked"
    HUNG = "hung"


class Joint(StrEnum):
    """How a joist meets a beam."""

    LAP_OVER = "lap-over"
    LAP_UNDER = "lap-under"
    HOUSING = "housing"
    BUTT = "butt"
    HANGER = "hanger"
    BEARING = "bearing"


class Footing(StrEnum):
    """What stands between post and ground."""

    STONE = "stone"
    PAD = "pad"
    PIER = "pier"


class Look(StrEnum):
    """Appearance grades, best first (mubushi, jokobushi, kobushi, tokuitto, itto)."""

    CLEAR = "clear"
    FINE = "fine"
    SMALL_KNOT = "small-knot"
    SQUARE_EDGED = "square-edged"
    COMMON = "common"

    @property
    def rank(self) -> int:
        """Return 0 for the best look, counting up; a lower rank may stand in for a higher one."""
        return list(Look).index(self)


class Use(StrEnum):
    """Who uses the floor; decides the live load."""

    DWELLING = "dwelling"
    BALCONY = "balcony"
    PUBLIC = "public"


class Wetness(StrEnum):
    """How wet the timber is over its life (decides the moisture factor of the standard)."""

    ALWAYS = "always"
    AT_TIMES = "at-times"


class Coating(StrEnum):
    """Kind of finish."""

    PENETRATING = "penetrating"
    WATER_REPELLENT = "water-repellent"
    NONE = "none"


class Part(StrEnum):
    """What a piece of timber becomes."""

    BOARD = "board"
    BEAM = "beam"
    JOIST = "joist"
    BLOCK = "block"
    POST = "post"


class CutGoal(StrEnum):
    """What makes one cutting plan better than another of the same price."""

    FEWER_PATTERNS = "fewer-patterns"
    LONGER_OFFCUTS = "longer-offcuts"
    FEWER_STICKS = "fewer-sticks"
    TOGETHER = "together"
    """Pieces for one place from one stick, of the parts that ask for it: their colour and grain go together."""


class PriceBy(StrEnum):
    """What a price counts."""

    PIECE = "piece"
    METRE = "m"
    CUBIC_METRE = "m3"
    LITRE = "litre"
    BOX = "box"
    HOUR = "hour"
