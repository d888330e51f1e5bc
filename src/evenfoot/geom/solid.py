"""Closed solids: boxes and prisms, what is left after cuts, how much two share, and the mesh that shows them.

The kernel is manifold3d, which keeps every result closed. Lengths in mm, volumes in mm3.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    FloatArray = npt.NDArray[np.float64]
    IntArray = npt.NDArray[np.int64]

Point = tuple[float, float]
Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """Triangles of a closed surface, seen counter-clockwise from outside.

    ``points`` has shape (n, 3) [mm]; ``triangles`` has shape (m, 3) and holds numbers of points.
    """

    points: FloatArray
    triangles: IntArray

    def moved(self, by: Point3) -> Mesh:
        """Return the surface shifted [mm]."""
        points = self.points + by
        points.setflags(write=False)
        return Mesh(points=points, triangles=self.triangles)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A seen piece of an edge of body number ``body``, in the plane of a picture [mm, x to the right, y up]."""

    body: int
    a: Point
    b: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a solid stands: its axes ``along``, ``left`` and ``up`` (unit vectors, right-handed) at ``origin`` [mm]."""

    origin: Point3
    along: Point3
    left: Point3
    up: Point3


class Solid:
    """A closed solid; it never changes, every operation gives a new one."""

    __slots__ = ("_body", "_mesh")

    def __init__(self, body: Any) -> None:  # noqa: ANN401 - the kernel has no types of its own
        # The kernel works lazily, and what it works out depends on what was asked before: ask at once.
        body.status()
        self._body = body
        self._mesh: Mesh | None = None

    @classmethod
    def box(cls, low: Point3, high: Point3) -> Solid:
        """Return the box between two corners [mm]."""
        from manifold3d import Manifold

        size = tuple(b - a for a, b in zip(low, high, strict=True))
        assert min(size) > 0.0, "a box has three extents"
        return cls(Manifold.cube(size).translate(low))

    @classmethod
    def prism(cls, outline: Sequence[Point], *, bottom: float, top: float) -> Solid:
        """Return a plane outline (counter-clockwise, simple) raised from ``bottom`` to ``top`` [mm]."""
        import numpy as np
        from manifold3d import CrossSection, Manifold

        assert top > bottom, "a prism has a height"
        section = CrossSection([np.asarray(outline, dtype=np.float64)])
        return cls(Manifold.extrude(section, top - bottom).translate((0.0, 0.0, bottom)))

    def without(self, tools: Iterable[Solid]) -> Solid:
        """Return what is left when every tool has been cut away."""
        from manifold3d import Manifold, OpType

        bodies = [t._body for t in tools]  # noqa: SLF001 - solids see each other's body
        if not bodies:
            return self
        return Solid(Manifold.batch_boolean([self._body, *bodies], OpType.Subtract))

    def below(self, point: Point3, normal: Point3) -> Solid:
        """Return the part on the far side of the plane through ``point``: against the direction of ``normal``."""
        turned = tuple(-n for n in normal)
        return Solid(self._body.trim_by_plane(turned, sum(n * p for n, p in zip(turned, point, strict=True))))

    def shared_with(self, other: Solid) -> Solid:
        """Return the part that both fill."""
        return Solid(self._body ^ other._body)

    def placed(self, place: Place) -> Solid:
        """Return the solid carried from its own axes to a place."""
        import numpy as np

        columns = (place.along, place.left, place.up, place.origin)
        return Solid(self._body.transform(np.array(columns, dtype=np.float64).T))

    def moved(self, by: Point3) -> Solid:
        """Return the solid shifted [mm]."""
        return Solid(self._body.translate(by))

    @property
    def volume(self) -> float:
        """Volume [mm3]."""
        return float(self._body.volume())

    @property
    def is_empty(self) -> bool:
        """Whether nothing is left."""
        return bool(self._body.is_empty())

    @property
    def parts(self) -> int:
        """Into how many separate pieces it falls."""
        return len(self._body.decompose())

    @property
    def bounds(self) -> tuple[Point3, Point3]:
        """Lowest and highest corner of the upright box around it [mm]."""
        x0, y0, z0, x1, y1, z1 = self._body.bounding_box()
        return (x0, y0, z0), (x1, y1, z1)

    def mesh(self) -> Mesh:
        """Return its surface, read-only."""
        import numpy as np

        if self._mesh is None:
            found = self._body.to_mesh64()
            points = np.array(found.vert_properties[:, :3], dtype=np.float64)
            triangles = np.array(found.tri_verts, dtype=np.int64)
            points.setflags(write=False)
            triangles.setflags(write=False)
            self._mesh = Mesh(points=points, triangles=triangles)
        return self._mesh
