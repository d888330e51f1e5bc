"""Small exact tools of plane geometry: boxes, areas, outlines that cross themselves, turning and clipping."""

from evenfoot.geom.clip import clip_each, clip_to_bands
from evenfoot.geom.heading import Heading, heading
from evenfoot.geom.polygon import Box, Point, as_upright_box, box_of, is_simple, signed_area, without_flat_corners
from evenfoot.geom.slide import has_edge_at, slide_edges

__all__ = [
    "Box",
    "Heading",
    "Point",
    "as_upright_box",
    "box_of",
    "clip_each",
    "clip_to_bands",
    "has_edge_at",
    "heading",
    "is_simple",
    "signed_area",
    "slide_edges",
    "without_flat_corners",
]
