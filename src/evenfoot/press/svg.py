"""One sheet as SVG in real millimetres, the same text every time."""

from __future__ import annotations

from itertools import groupby
from xml.etree import ElementTree as ET

from evenfoot.ink import Anchor, Circle, Fill, Line, Page, Pen, Polygon, Text, flat, look, text_width

Plain = Line | Polygon | Circle | Text


def svg_of(page: Page) -> str:
    """Return one page as an SVG document, to 0.01 mm.

    Marks keep their order, since paper hides what lies under it; neighbours of one layer and member share a group
    with ``data-layer`` and ``data-member``. A plan tells in ``data-x0`` and ``data-y0`` where on its paper the floor's
    x = y = 0 lies; ``data-scale`` real mm are one mm of paper, x to the right and y upwards. Every text carries its
    length, so that it keeps its place in any font. Attributes are sorted.
    """
    size, corner = (_figure(page.width), _figure(page.height)), (_figure(page.left), _figure(page.top))
    real = {} if page.origin is None else {"data-x0": f"{page.origin[0]:.4f}", "data-y0": f"{page.origin[1]:.4f}"}
    root = ET.Element(
        "svg",
        {
            **real,
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{size[0]}mm",
            "height": f"{size[1]}mm",
            "viewBox": f"{corner[0]} {corner[1]} {size[0]} {size[1]}",
            "font-family": f"'{look.FAMILY}', sans-serif",
            "stroke-linejoin": "round",
            "stroke-linecap": "round",
            "data-code": page.code,
            "data-scale": _figure(page.scale),
        },
    )
    ET.SubElement(root, "title").text = page.title
    begins = {"x": corner[0], "y": corner[1]} if page.left or page.top else {}
    ET.SubElement(root, "rect", {**begins, "width": size[0], "height": size[1], "fill": look.PAPER})
    for (layer, member), shapes in groupby(flat(page), key=lambda s: (s.layer, s.member)):
        held = {"data-layer": layer}
        if member:
            held["data-member"] = member
        group = ET.SubElement(root, "g", held)
        for shape in shapes:
            _write(group, shape)
    for element in root.iter():
        ordered = sorted(element.attrib.items())
        element.attrib.clear()
        element.attrib.update(ordered)
    ET.indent(root, space=" ")
    return ET.tostring(root, encoding="unicode") + "\n"


def _figure(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _stroke(pen: Pen | None) -> dict[str, str]:
    if pen is None:
        return {"stroke": "none"}
    return {"stroke": look.COLOURS[pen], "stroke-width": _figure(look.WIDTHS[pen])}


def _fill(fill: Fill | None) -> str:
    return "none" if fill is None else look.fill_colour(fill, is_tinted=True)


def _dash(dash: tuple[float, ...]) -> dict[str, str]:
    return {"stroke-dasharray": " ".join(_figure(d) for d in dash)} if dash else {}


def _write(group: ET.Element, shape: Plain) -> None:
    match shape:
        case Line():
            ends = {"x1": shape.a[0], "y1": shape.a[1], "x2": shape.b[0], "y2": shape.b[1]}
            held = {name: _figure(value) for name, value in ends.items()}
            ET.SubElement(group, "line", {**held, **_stroke(shape.pen), **_dash(shape.dash)})
        case Polygon():
            points = " ".join(f"{_figure(x)},{_figure(y)}" for x, y in shape.points)
            name = "polygon" if shape.is_closed else "polyline"
            ET.SubElement(
                group, name, {"points": points, "fill": _fill(shape.fill), **_stroke(shape.pen), **_dash(shape.dash)}
            )
        case Circle():
            place = {"cx": _figure(shape.centre[0]), "cy": _figure(shape.centre[1]), "r": _figure(shape.r)}
            ET.SubElement(group, "circle", {**place, "fill": _fill(shape.fill), **_stroke(shape.pen)})
        case Text():
            _write_text(group, shape)


def _write_text(group: ET.Element, text: Text) -> None:
    if not text.text:
        return
    x, y = _figure(text.at[0]), _figure(text.at[1])
    held = {
        "x": x,
        "y": y,
        "font-size": _figure(text.size),
        "fill": look.COLOURS[text.pen],
        "textLength": _figure(text_width(text.text, text.size, is_bold=text.is_bold)),
        "lengthAdjust": "spacingAndGlyphs",
    }
    if text.anchor is not Anchor.START:
        held["text-anchor"] = text.anchor.value
    if text.is_bold:
        held["font-weight"] = "700"
    if text.angle_deg:
        held["transform"] = f"rotate({_figure(-text.angle_deg)} {x} {y})"
    ET.SubElement(group, "text", held).text = text.text
