"""Small exact tools of geometry: boxes, areas, outlines that cross themselves, turning and clipping; closed solids."""

from evenfoot.geom.clip import clip_each, clip_to_bands
from evenfoot.geom.eye import Eye
from evenfoot.geom.heading import Heading, heading
from evenfoot.geom.polygon import Point, as_upright_box, box_of, is_simple, signed_area
from evenfoot.geom.slide import has_edge_at, slide_edges
from evenfoot.geom.solid import Mesh, Place, Solid

__all__ = [
    "Eye",
    "Heading",
    "Mesh",
    "Place",
    "Point",
    "Solid",
    "as_upright_box",
    "box_of",
    "clip_each",
    "clip_to_bands",
    "has_edge_at",
    "heading",
    "is_simple",
    "signed_area",
    "slide_edges",
]
