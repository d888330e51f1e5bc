"""Bodies as one IFC4 file (ISO 16739-1:2018, written by ISO 10303-21): timbers with material, mark and properties."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfoot.ink import bodies as ink

_SPACE = uuid.UUID("6f1d2a3e-52a0-5d0b-9a55-0c7a3b8c4e11")
"""Names of things become the same identifiers every time, within this space of our own."""
_DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
"""The 64 digits of a global identifier (ISO 16739-1, IfcGloballyUniqueId)."""

_ELEMENTS = {
    ink.Thing.BEAM: ("IFCBEAM", ".BEAM.", "Pset_BeamCommon"),
    ink.Thing.JOIST: ("IFCBEAM", ".JOIST.", "Pset_BeamCommon"),
    ink.Thing.BLOCK: ("IFCMEMBER", ".BRACE.", "Pset_MemberCommon"),
    ink.Thing.POST: ("IFCCOLUMN", ".COLUMN.", "Pset_ColumnCommon"),
    ink.Thing.BOARD: ("IFCPLATE", ".USERDEFINED.", "Pset_PlateCommon"),
    ink.Thing.FOOTING: ("IFCFOOTING", ".PAD_FOOTING.", "Pset_FootingCommon"),
}
"""Which entity, which predefined type, and which common property set holds the mark."""


def ifc_of(bodies: Sequence[ink.Body], *, title: str, date: str) -> bytes:
    """Return a building model: lengths in mm, z up; ``date`` (``2026-11-25``) is the job's, so that bytes repeat."""
    model = _Model()
    context = model.add("IFCGEOMETRICREPRESENTATIONCONTEXT", "$", "'Model'", "3", "1.E-05", _axes(model), "$")
    body = model.add(
        "IFCGEOMETRICREPRESENTATIONSUBCONTEXT",
        "'Body'",
        "'Model'",
        "*",
        "*",
        "*",
        "*",
        context,
        "$",
        ".MODEL_VIEW.",
        "$",
    )
    storey = _spaces(model, title, context)
    placement = model.add("IFCLOCALPLACEMENT", storey.placement, _axes(model))
    elements = [_element(model, one, placement, body) for one in bodies]
    if elements:
        model.relate("IFCRELCONTAINEDINSPATIALSTRUCTURE", "held", _list(elements), storey.entity)
    for material in sorted({b.material for b in bodies}):
        made_of = [e for e, b in zip(elements, bodies, strict=True) if b.material == material]
        stuff = model.add("IFCMATERIAL", _text(material), "$", "$")
        model.relate("IFCRELASSOCIATESMATERIAL", f"material {material}", _list(made_of), stuff)
    return model.file(title=title, date=date)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Storey:
    entity: str
    placement: str


class _Model:
    """The entities of one file, numbered as they come."""

    def __init__(self) -> None:
        self._lines: list[str] = []

    def add(self, kind: str, *given: str) -> str:
        """Write one entity and return its number as ``#12``."""
        number = f"#{len(self._lines) + 1}"
        self._lines.append(f"{number}={kind}({','.join(given)});")
        return number

    def relate(self, kind: str, name: str, *given: str) -> None:
        """Write one relation."""
        self.add(kind, global_id(f"{kind} {name} {given}"), "$", "$", "$", *given)

    def file(self, *, title: str, date: str) -> bytes:
        """Return the whole file."""
        head = (
            "ISO-10303-21;",
            "HEADER;",
            "FILE_DESCRIPTION(('ViewDefinition [ReferenceView_V1.2]'),'2;1');",
            f"FILE_NAME({_text(title)},'{date}T00:00:00',(''),(''),'Evenfoot','Evenfoot','');",
            "FILE_SCHEMA(('IFC4'));",
            "ENDSEC;",
            "DATA;",
        )
        return ("\n".join([*head, *self._lines, "ENDSEC;", "END-ISO-10303-21;"]) + "\n").encode("ascii")


def global_id(name: str) -> str:
    """Return the identifier of a name, quoted: 128 bits in 22 digits of base 64 (ISO 16739-1, IfcGloballyUniqueId)."""
    number = uuid.uuid5(_SPACE, name).int
    return "'" + "".join(_DIGITS[(number >> 6 * k) & 63] for k in reversed(range(22))) + "'"


def _text(text: str) -> str:
    """Return a string as ISO 10303-21 writes it: what is not ASCII as hexadecimal between X2 and X0."""
    out: list[str] = []
    for character in text:
        if character in {"'", "\\"}:
            out.append(character * 2)
        elif " " <= character <= "~":
            out.append(character)
        else:
            wide = character.encode("utf-16-be").hex().upper()
            out.append(f"\\X2\\{wide}\\X0\\")
    return "'" + "".join(out) + "'"


def _real(value: float) -> str:
    """Return a number as ISO 10303-21 writes a real: always with a point; to a ten-thousandth."""
    text = f"{value:.4f}".rstrip("0")
    return "0." if text in {"-0.", "0."} else text


def _list(parts: Iterable[str]) -> str:
    return f"({','.join(parts)})"


def _axes(model: _Model) -> str:
    origin = model.add("IFCCARTESIANPOINT", "(0.,0.,0.)")
    return model.add("IFCAXIS2PLACEMENT3D", origin, "$", "$")


def _units(model: _Model) -> str:
    asked = (
        (".LENGTHUNIT.", ".MILLI.", ".METRE."),
        (".AREAUNIT.", "$", ".SQUARE_METRE."),
        (".VOLUMEUNIT.", "$", ".CUBIC_METRE."),
        (".PLANEANGLEUNIT.", "$", ".RADIAN."),
        (".MASSUNIT.", ".KILO.", ".GRAM."),
    )
    return model.add("IFCUNITASSIGNMENT", _list(model.add("IFCSIUNIT", "*", *one) for one in asked))


def _spaces(model: _Model, title: str, context: str) -> _Storey:
    """Write project, site, building and storey, each inside the one before."""
    units = _units(model)
    project = model.add(
        "IFCPROJECT", global_id("project"), "$", _text(title), "$", "$", "$", "$", _list([context]), units
    )
    inside, placement = project, "$"
    kinds = (
        ("IFCSITE", ("$", "$", ".ELEMENT.", "$", "$", "$", "$", "$")),
        ("IFCBUILDING", ("$", "$", ".ELEMENT.", "$", "$", "$")),
        ("IFCBUILDINGSTOREY", ("$", "$", ".ELEMENT.", "0.")),
    )
    for kind, rest in kinds:
        placement = model.add("IFCLOCALPLACEMENT", placement, _axes(model))
        entity = model.add(kind, global_id(kind), "$", _text(title), "$", "$", placement, *rest)
        model.relate("IFCRELAGGREGATES", kind, inside, _list([entity]))
        inside = entity
    return _Storey(entity=inside, placement=placement)


def _element(model: _Model, body: ink.Body, placement: str, context: str) -> str:
    points = _list(_list(_real(v) for v in row) for row in body.mesh.points)
    faces = _list(_list(str(n + 1) for n in row) for row in body.mesh.triangles)
    listed = model.add("IFCCARTESIANPOINTLIST3D", points)
    surface = model.add("IFCTRIANGULATEDFACESET", listed, "$", ".T.", faces, "$")
    shown = model.add("IFCSHAPEREPRESENTATION", context, "'Body'", "'Tessellation'", _list([surface]))
    shape = model.add("IFCPRODUCTDEFINITIONSHAPE", "$", "$", _list([shown]))
    kind, predefined, common = _ELEMENTS[body.thing]
    kept_type = _text(body.thing.value.upper()) if predefined == ".USERDEFINED." else "$"
    element = model.add(
        kind,
        global_id(f"{body.thing} {body.mark}"),
        "$",
        _text(body.name),
        "$",
        kept_type,
        model.add("IFCLOCALPLACEMENT", placement, _axes(model)),
        shape,
        _text(body.mark),
        predefined,
    )
    _describe(model, element, common, {"Reference": body.mark}, body.mark)
    _describe(model, element, "Evenfoot_Timber", dict(body.properties), body.mark)
    _quantify(model, element, body)
    return element


def _describe(model: _Model, element: str, name: str, values: dict[str, ink.Value], mark: str) -> None:
    if not values:
        return
    held = [model.add("IFCPROPERTYSINGLEVALUE", _text(key), "$", _value(key, v), "$") for key, v in values.items()]
    pset = model.add("IFCPROPERTYSET", global_id(f"{name} {mark} {element}"), "$", _text(name), "$", _list(held))
    model.relate("IFCRELDEFINESBYPROPERTIES", f"{name} {mark}", _list([element]), pset)


def _value(key: str, value: ink.Value) -> str:
    if isinstance(value, bool):
        return f"IFCBOOLEAN({'.T.' if value else '.F.'})"
    if isinstance(value, str):
        return f"{'IFCIDENTIFIER' if key == 'Reference' else 'IFCLABEL'}({_text(value)})"
    return f"{'IFCLENGTHMEASURE' if key.endswith('_mm') else 'IFCREAL'}({_real(value)})"


def _quantify(model: _Model, element: str, body: ink.Body) -> None:
    """Write the volume of wood left after all cuts [m3]."""
    volume = model.add("IFCQUANTITYVOLUME", "'NetVolume'", "$", "$", f"{body.volume * 1e-9:.9f}", "$")
    kind = _ELEMENTS[body.thing][0].removeprefix("IFC").capitalize()
    name = f"Qto_{kind}BaseQuantities"
    amounts = model.add(
        "IFCELEMENTQUANTITY", global_id(f"{name} {body.thing} {body.mark}"), "$", _text(name), "$", "$", _list([volume])
    )
    model.relate("IFCRELDEFINESBYPROPERTIES", f"{name} {body.thing} {body.mark}", _list([element]), amounts)
