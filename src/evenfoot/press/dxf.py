"""One sheet as DXF (AutoCAD Release 2010 format, AC1024) in real millimetres, dimensions as dimension entities."""

from __future__ import annotations

from io import StringIO
from typing import Any

from evenfoot.geom import Point
from evenfoot.ink import Anchor, Circle, Dimension, Fill, Line, Page, Pen, Polygon, Text, look
from evenfoot.press import dxf_marks as marks

_STYLE = "SHEET"
_APP = "EVENFOOT"
"""Under this name each entity carries the mark of the timber that it shows."""
_CLASSES = ("ACDBPLACEHOLDER", "LAYOUT")
"""Classes that the library would add in an order that changes from run to run."""
_CAPITALS = 0.765
"""Height of capitals as a share of the font size; DXF gives a text the height of its capitals."""
_GROUND = "0"
_JOG = 4.0
"""How far the leader of a running dimension reaches past its line [paper mm]."""


def dxf_of(page: Page) -> bytes:
    """Return a sheet in real mm, y upwards, one layer for each trade layer of its marks.

    A sheet to scale is drawn at the size of the real thing, so that its dimensions measure true; a sheet without a
    scale keeps its paper millimetres.
    """
    import ezdxf
    from ezdxf import options

    options.write_fixed_meta_data_for_testing = True  # no dates or random numbers: bytes repeat
    document = ezdxf.new("R2010", setup=False, units=ezdxf.units.MM)
    for name in _CLASSES:
        document.classes.add_class(name)
    document.appids.add(_APP)
    document.styles.add(_STYLE, font="BIZUDPGothic-Regular.ttf")
    sheet = _Sheet(document, page)
    for shape in page.shapes:
        sheet.draw(shape)
    sink = StringIO()
    document.write(sink)
    return marks.among(sink.getvalue(), sheet.entities).encode()


class _Sheet:
    """One page being replayed into the model space of a document; dimensions are left to the library."""

    def __init__(self, document: Any, page: Page) -> None:  # noqa: ANN401 - ezdxf is used without its types
        self.entities: list[str | None] = []
        """Entities in the order of the marks; None for one that the document holds."""
        self._document = document
        self._space = document.modelspace()
        self._height = page.height
        self._scale = page.scale or 1.0
        self._layers: dict[str, str] = {}
        self._style_of_dimensions()

    def draw(self, shape: Line | Polygon | Circle | Text | Dimension) -> None:
        """Write one mark."""
        match shape:
            case Line():
                self._put(marks.line(self._head(shape.pen, shape), self._at(shape.a), self._at(shape.b)), shape)
            case Polygon():
                self._polygon(shape)
            case Circle():
                self._circle(shape)
            case Text():
                self._text(shape)
            case Dimension():
                self._dimension(shape)

    def _put(self, entity: str, shape: Any) -> None:  # noqa: ANN401 - any mark
        self.entities.append(marks.with_mark(entity, _APP, shape.member))

    def _at(self, point: Point) -> Point:
        return point[0] * self._scale, (self._height - point[1]) * self._scale

    def _layer(self, name: str) -> str:
        kept = self._layers.get(name)
        if kept is None:
            kept = self._layers[name] = name.upper().replace(" ", "-") or _GROUND
            if kept not in self._document.layers:
                self._document.layers.add(kept)
        return kept

    def _head(self, pen: Pen, shape: Any) -> marks.Head:  # noqa: ANN401 - any mark
        layer, dash = self._layer(shape.layer), self._dash(getattr(shape, "dash", ()))
        return marks.Head(
            handle=self._document.entitydb.next_handle(),
            owner=self._space.layout_key,
            layer=layer,
            colour=int(look.COLOURS[pen][1:], 16),
            weight=round(look.WIDTHS[pen] * 100),
            dash=dash,
        )

    def _dash(self, dash: tuple[float, ...]) -> str:
        """Return the name of the line type of a dash, made when it is first met."""
        if not dash:
            return ""
        name = "DASH-" + "-".join(f"{d:g}" for d in dash)
        if name not in self._document.linetypes:
            real = [d * self._scale for d in dash]
            pattern = [sum(real), *(d if k % 2 == 0 else -d for k, d in enumerate(real))]
            self._document.linetypes.add(name, pattern=pattern)
        return name

    def _polygon(self, shape: Polygon) -> None:
        points = [self._at(p) for p in shape.points]
        if shape.fill is not None:
            self._put(marks.filled(self._tint(shape.fill, shape), points), shape)
        if shape.pen is not None:
            self._put(marks.outline(self._head(shape.pen, shape), points, is_closed=shape.is_closed), shape)

    def _circle(self, shape: Circle) -> None:
        centre, radius = self._at(shape.centre), shape.r * self._scale
        if shape.fill is not None:
            tint = {"layer": self._layer(shape.layer), "true_color": _tint(shape.fill)}
            hatch = self._space.add_hatch(dxfattribs=tint)
            hatch.paths.add_edge_path().add_arc(centre, radius, 0, 360)
            self._keep(hatch, shape)
        if shape.pen is not None:
            self._put(marks.circle(self._head(shape.pen, shape), centre, radius), shape)

    def _tint(self, fill: Fill, shape: Polygon) -> marks.Head:
        layer, handle = self._layer(shape.layer), self._document.entitydb.next_handle()
        return marks.Head(handle=handle, owner=self._space.layout_key, layer=layer, colour=_tint(fill))

    def _text(self, shape: Text) -> None:
        if not shape.text:
            return
        said = marks.Words(
            at=self._at(shape.at),
            text=shape.text,
            height=shape.size * _CAPITALS * self._scale,
            side={Anchor.START: 0, Anchor.MIDDLE: 1, Anchor.END: 2}[shape.anchor],
            angle_deg=shape.angle_deg,
            style=_STYLE,
        )
        self._put(marks.words(self._head(shape.pen, shape), said), shape)

    def _keep(self, entity: Any, shape: Any) -> None:  # noqa: ANN401
        """Take up an entity that the library has made."""
        self.entities.append(None)
        if shape.member:
            entity.set_xdata(_APP, [(1000, shape.member)])

    def _dimension(self, shape: Dimension) -> None:
        held = {"layer": self._layer(shape.layer), "true_color": int(look.PENCIL[1:], 16)}
        override = {"dimtxt": shape.size * _CAPITALS * self._scale}
        if shape.running:
            made = self._running(shape, held, override)
        else:
            made = self._space.add_aligned_dim(
                p1=self._at(shape.a),
                p2=self._at(shape.b),
                distance=shape.offset * self._scale,
                text=shape.text,
                dimstyle=_STYLE,
                override=override,
                dxfattribs=held,
            )
        made.render()
        self._keep(made.dimension, shape)

    def _running(self, shape: Dimension, held: dict[str, Any], override: dict[str, float]) -> Any:  # noqa: ANN401
        """Return an ordinate dimension: what a running mark is, counted from the zero of its chain."""
        origin, feature = self._at(shape.a), self._at(shape.b)
        sign = 1.0 if shape.offset >= 0 else -1.0
        reach = (abs(shape.offset) + _JOG) * sign * self._scale
        is_flat = shape.running == "across"
        shift = shape.shift * self._scale
        offset = (shift, reach) if is_flat else (reach, -shift)
        add = self._space.add_ordinate_x_dim if is_flat else self._space.add_ordinate_y_dim
        return add(
            feature_location=feature,
            offset=offset,
            origin=origin,
            text=shape.text,
            dimstyle=_STYLE,
            override=override,
            dxfattribs=held,
        )

    def _style_of_dimensions(self) -> None:
        style = self._document.dimstyles.duplicate_entry("Standard", _STYLE)
        scale = self._scale
        style.dxf.dimtxsty = _STYLE
        style.dxf.dimtxt = 3.0 * _CAPITALS * scale
        style.dxf.dimtsz = 0.9 * scale
        style.dxf.dimexo = 1.0 * scale
        style.dxf.dimexe = 0.9 * scale
        style.dxf.dimgap = 0.9 * scale
        style.dxf.dimtad = 1
        style.dxf.dimdec = 1
        style.dxf.dimscale = 1.0


def _tint(fill: Fill) -> int:
    return int(look.fill_colour(fill, is_tinted=False)[1:], 16)
