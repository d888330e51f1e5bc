"""Bodies as one GLB file (glTF 2.0, Khronos Group 2021): a node with mark and properties for every timber."""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from evenfoot.ink import bodies as ink

_FLOAT, _USHORT, _UINT = 5126, 5123, 5125
_ARRAY, _ELEMENTS = 34962, 34963
_SMALL = 65535
_METRE = 1000.0
"""glTF counts in metres [mm]."""
TIMBER = {
    ink.Thing.BOARD: "#d9c29a",
    ink.Thing.BEAM: "#b98f5e",
    ink.Thing.JOIST: "#c9a777",
    ink.Thing.BLOCK: "#c9a777",
    ink.Thing.POST: "#a57c50",
    ink.Thing.FOOTING: "#b5b0a6",
}
"""How each kind of body looks: planed timber by its place, stone grey for footings."""


def glb_of(bodies: Sequence[ink.Body], *, title: str = "") -> bytes:
    """Return the bodies as GLB, in metres with y up as the format asks; equal bodies give equal bytes.

    Faces are flat: no corner is shared between faces that turn, so that edges stay crisp.
    """
    return _Writer(title).write(bodies)


class _Writer:
    """One file being put together: the JSON part and the bytes that it points into."""

    def __init__(self, title: str) -> None:
        self._title = title
        self._bytes = bytearray()
        self._views: list[dict[str, Any]] = []
        self._accessors: list[dict[str, Any]] = []

    def write(self, bodies: Sequence[ink.Body]) -> bytes:
        things = sorted({b.thing for b in bodies})
        nodes: list[dict[str, Any]] = []
        meshes: list[dict[str, Any]] = []
        for body in bodies:
            points, normals, triangles = flat_faces(body)
            primitive = {
                "attributes": {"POSITION": self._floats(points, has_bounds=True), "NORMAL": self._floats(normals)},
                "indices": self._indices(triangles),
                "material": things.index(body.thing),
            }
            extras = {
                "mark": body.mark,
                "thing": body.thing.value,
                "label": body.name,
                "material": body.material,
                **dict(body.properties),
            }
            nodes.append({"name": body.mark, "mesh": len(meshes), "extras": extras})
            meshes.append({"name": body.name, "primitives": [primitive]})
        scene: dict[str, Any] = {"nodes": list(range(len(nodes)))}
        if self._title:
            scene["name"] = self._title
        held = {
            "asset": {"version": "2.0", "generator": "Evenfoot"},
            "scene": 0,
            "scenes": [scene],
            "nodes": nodes,
            "meshes": meshes,
            "materials": [_material(t) for t in things],
            "accessors": self._accessors,
            "bufferViews": self._views,
            "buffers": [{"byteLength": len(self._bytes)}],
        }
        return _pack(held if bodies else {"asset": held["asset"]}, bytes(self._bytes))

    def _view(self, data: bytes, target: int) -> int:
        self._bytes += b"\0" * (-len(self._bytes) % 4)
        self._views.append({"buffer": 0, "byteOffset": len(self._bytes), "byteLength": len(data), "target": target})
        self._bytes += data
        return len(self._views) - 1

    def _floats(self, rows: npt.NDArray[np.float32], *, has_bounds: bool = False) -> int:
        found: dict[str, Any] = {
            "bufferView": self._view(rows.tobytes(), _ARRAY),
            "componentType": _FLOAT,
            "count": len(rows),
            "type": "VEC3",
        }
        if has_bounds:
            found |= {"min": [float(v) for v in rows.min(axis=0)], "max": [float(v) for v in rows.max(axis=0)]}
        self._accessors.append(found)
        return len(self._accessors) - 1

    def _indices(self, triangles: npt.NDArray[np.int64]) -> int:
        is_small = triangles.max() < _SMALL
        data = triangles.astype(np.uint16 if is_small else np.uint32).tobytes()
        self._accessors.append(
            {
                "bufferView": self._view(data, _ELEMENTS),
                "componentType": _USHORT if is_small else _UINT,
                "count": int(triangles.size),
                "type": "SCALAR",
            }
        )
        return len(self._accessors) - 1


def flat_faces(body: ink.Body) -> tuple[npt.NDArray[np.float32], npt.NDArray[np.float32], npt.NDArray[np.int64]]:
    """Return points [m, y up], normals and triangles, each (n, 3); corners are shared only within a plane face."""
    mesh = body.mesh
    corners = mesh.points[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    keys = np.concatenate(
        [np.repeat(np.round(normals, 6) + 0.0, 3, axis=0), np.round(corners.reshape(-1, 3), 4) + 0.0], axis=1
    )
    kept, numbers = np.unique(keys, axis=0, return_inverse=True)
    points = kept[:, 3:] / _METRE
    return _y_up(points), _y_up(kept[:, :3]), numbers.reshape(-1, 3).astype(np.int64)


def _y_up(rows: npt.NDArray[np.float64]) -> npt.NDArray[np.float32]:
    """Turn z up into y up: x stays, y away from the house becomes -z."""
    return np.ascontiguousarray(np.stack([rows[:, 0], rows[:, 2], -rows[:, 1]], axis=1), dtype=np.float32)


def _material(thing: ink.Thing) -> dict[str, Any]:
    colour = [_linear(int(TIMBER[thing][k : k + 2], 16) / 255.0) for k in (1, 3, 5)]
    return {
        "name": thing.value,
        "pbrMetallicRoughness": {"baseColorFactor": [*colour, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.9},
    }


def _linear(value: float) -> float:
    """Return a screen colour as linear light (IEC 61966-2-1)."""
    straight = value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
    return round(straight, 5)


def _pack(held: dict[str, Any], data: bytes) -> bytes:
    text = json.dumps(held, ensure_ascii=False, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    data += b"\0" * (-len(data) % 4)
    chunks = struct.pack("<II", len(text), 0x4E4F534A) + text
    if data:
        chunks += struct.pack("<II", len(data), 0x004E4942) + data
    return struct.pack("<III", 0x46546C67, 2, 12 + len(chunks)) + chunks
