"""One sheet as SVG in real millimetres, the same text every time."""

from __future__ import annotations

from functools import cache
from itertools import groupby

from evenfoot.ink import Anchor, Circle, Fill, Line, Page, Pen, Polygon, Text, flat, look, text_width

Plain = Line | Polygon | Circle | Text


def svg_of(page: Page) -> str:
    """Return one page as an SVG document, to 0.01 mm.

    Marks keep their order, since paper hides what lies under it; neighbours of one layer and member share a group
    with ``data-layer`` and ``data-member``. A plan tells in ``data-x0`` and ``data-y0`` where on its paper the floor's
    x = y = 0 lies; ``data-scale`` real mm are one mm of paper, x to the right and y upwards. Every text carries its
    length, so that it keeps its place in any font. Attributes are sorted.
    """
    wide, high = _figure(page.width), _figure(page.height)
    left, top = _figure(page.left), _figure(page.top)
    begins = {"x": left, "y": top} if page.left or page.top else {}
    real = {} if page.origin is None else {"data-x0": f"{page.origin[0]:.4f}", "data-y0": f"{page.origin[1]:.4f}"}
    root = {
        **real,
        "xmlns": "http://www.w3.org/2000/svg",
        "width": f"{wide}mm",
        "height": f"{high}mm",
        "viewBox": f"{left} {top} {wide} {high}",
        "font-family": f"'{look.FAMILY}', sans-serif",
        "stroke-linejoin": "round",
        "stroke-linecap": "round",
        "data-code": page.code,
        "data-scale": _figure(page.scale),
    }
    out = [
        f"<svg{_attributes(root)}>",
        f" <title>{_text(page.title)}</title>" if page.title else " <title />",
        f" <rect{_attributes({**begins, 'width': wide, 'height': high, 'fill': look.PAPER})} />",
    ]
    for (layer, member), shapes in groupby(flat(page), key=lambda s: (s.layer, s.member)):
        written = [line for line in map(_write, shapes) if line]
        group = f' <g data-layer="{_quoted(layer)}"' + (f' data-member="{_quoted(member)}"' if member else "")
        out += [f"{group}>", *written, " </g>"] if written else [f"{group} />"]
    out.append("</svg>\n")
    return "\n".join(out)


def _text(value: str) -> str:
    """Return a text as it stands between tags (XML 1.0, 2.4)."""
    return value.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _quoted(value: str) -> str:
    """Return a text as it stands between quotation marks (XML 1.0, 2.3 and 3.3.3)."""
    if value.isalnum():
        return value
    plain = _text(value).replace('"', "&quot;")
    return plain.replace("\r", "&#13;").replace("\n", "&#10;").replace("\t", "&#09;")


def _attributes(held: dict[str, str]) -> str:
    return "".join(f' {name}="{_quoted(value)}"' for name, value in sorted(held.items()))


def _figure(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@cache
def _stroke(pen: Pen | None) -> str:
    if pen is None:
        return ' stroke="none"'
    return f' stroke="{look.COLOURS[pen]}"'


@cache
def _weight(pen: Pen | None) -> str:
    return "" if pen is None else f' stroke-width="{_figure(look.WIDTHS[pen])}"'


@cache
def _fill(fill: Fill | None) -> str:
    return "none" if fill is None else look.fill_colour(fill, is_tinted=True)


@cache
def _dash(dash: tuple[float, ...]) -> str:
    return f' stroke-dasharray="{" ".join(_figure(d) for d in dash)}"' if dash else ""


def _write(shape: Plain) -> str:
    """Return one mark on a line of its own, its attributes in the order of their names; nothing for an empty text."""
    match shape:
        case Line():
            (x1, y1), (x2, y2) = shape.a, shape.b
            look_of = f"{_stroke(shape.pen)}{_dash(shape.dash)}{_weight(shape.pen)}"
            return f'  <line{look_of} x1="{_figure(x1)}" x2="{_figure(x2)}" y1="{_figure(y1)}" y2="{_figure(y2)}" />'
        case Polygon():
            points = " ".join([f"{_figure(x)},{_figure(y)}" for x, y in shape.points])
            name = "polygon" if shape.is_closed else "polyline"
            look_of = f"{_stroke(shape.pen)}{_dash(shape.dash)}{_weight(shape.pen)}"
            return f'  <{name} fill="{_fill(shape.fill)}" points="{points}"{look_of} />'
        case Circle():
            x, y = (_figure(v) for v in shape.centre)
            look_of = f'fill="{_fill(shape.fill)}" r="{_figure(shape.r)}"{_stroke(shape.pen)}{_weight(shape.pen)}'
            return f'  <circle cx="{x}" cy="{y}" {look_of} />'
        case Text():
            return _said(shape)


def _said(text: Text) -> str:
    if not text.text:
        return ""
    x, y = _figure(text.at[0]), _figure(text.at[1])
    wide = _figure(text_width(text.text, text.size, is_bold=text.is_bold))
    bold = ' font-weight="700"' if text.is_bold else ""
    anchor = "" if text.anchor is Anchor.START else f' text-anchor="{text.anchor.value}"'
    turn = f' transform="rotate({_figure(-text.angle_deg)} {x} {y})"' if text.angle_deg else ""
    look_of = f'fill="{look.COLOURS[text.pen]}" font-size="{_figure(text.size)}"{bold}'
    held = f'{look_of} lengthAdjust="spacingAndGlyphs"{anchor} textLength="{wide}"{turn}'
    return f'  <text {held} x="{x}" y="{y}">{_text(text.text)}</text>'
