"""GLB and IFC of bodies, read back by libraries that are not ours."""

from io import BytesIO

import numpy as np
import pytest

from evenfoot.geom import Solid
from evenfoot.ink import bodies as ink
from evenfoot.press import glb_of, ifc_of


def body(mark, thing, solid, **properties):
    return ink.Body(
        mark=mark,
        name=f"{thing} {mark}",
        thing=ink.Thing(thing),
        material="sugi" if thing != "footing" else "stone",
        mesh=solid.mesh(),
        volume=solid.volume,
        properties=tuple(properties.items()),
    )


@pytest.fixture(scope="module")
def floor():
    joist = Solid.box((0.0, 0.0, -105.0), (105.0, 2710.0, 0.0)).without([Solid.box((-1, 300, -60), (200, 405, -52.5))])
    return (
        body("い1", "footing", Solid.box((-60, -60, -500), (60, 60, -430))),
        body("い1", "post", Solid.box((0, 0, -430), (105, 105, -105)), length_mm=325.0, species="hinoki"),
        body("A1-4", "joist", joist, length_mm=2710.0, is_seen=True),
        body("b1", "board", Solid.box((0, 0, 0), (3600, 120, 30))),
    )


def test_glb_opens_elsewhere_with_the_same_bodies_in_metres(floor):
    import trimesh

    scene = trimesh.load(BytesIO(glb_of(floor, title="床")), file_type="glb")
    assert len(scene.geometry) == len(floor)
    found = [scene.geometry[scene.graph[name][1]] for name in sorted(scene.graph.nodes_geometry)]
    assert sorted(abs(m.volume) * 1e9 for m in found) == pytest.approx(sorted(b.volume for b in floor), rel=1e-5)
    low, high = scene.bounds
    # y is up in glTF: z of the job becomes y, y of the job becomes -z.
    assert low == pytest.approx([-0.060, -0.5, -2.71], abs=1e-6)
    assert high == pytest.approx([3.6, 0.03, 0.06], abs=1e-6)


def test_glb_normals_point_out_of_every_face(floor):
    import trimesh

    scene = trimesh.load(BytesIO(glb_of(floor)), file_type="glb", process=False)
    for mesh in scene.geometry.values():
        assert mesh.volume > 0.0
        told = mesh.vertex_normals[mesh.faces[:, 0]]
        assert np.einsum("ij,ij->i", told, mesh.face_normals) == pytest.approx(np.ones(len(mesh.faces)), abs=1e-5)


def test_glb_nodes_carry_mark_and_properties(floor):
    import json

    data = glb_of(floor)
    length = int.from_bytes(data[12:16], "little")
    held = json.loads(data[20 : 20 + length])
    assert [n["name"] for n in held["nodes"]] == ["い1", "い1", "A1-4", "b1"]
    assert held["nodes"][1]["extras"] == {
        "mark": "い1",
        "thing": "post",
        "label": "post い1",
        "material": "sugi",
        "length_mm": 325.0,
        "species": "hinoki",
    }


def test_a_floor_without_bodies_is_still_a_glb():
    assert glb_of(())[:4] == b"glTF"


def test_ifc_is_valid_by_a_public_checker(floor, tmp_path):
    import ifcopenshell
    import ifcopenshell.validate

    path = tmp_path / "floor.ifc"
    path.write_bytes(ifc_of(floor, title="床 'deck'", date="2026-11-25"))
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(ifcopenshell.open(path), logger, express_rules=True)
    assert logger.statements == []


def test_ifc_opens_elsewhere_with_marks_materials_and_volumes(floor, tmp_path):
    import ifcopenshell
    from ifcopenshell.util import element

    path = tmp_path / "floor.ifc"
    path.write_bytes(ifc_of(floor, title="床", date="2026-11-25"))
    model = ifcopenshell.open(path)
    assert model.schema == "IFC4"
    assert model.by_type("IfcProject")[0].Name == "床"
    kinds = {kind: [e.Tag for e in model.by_type(kind)] for kind in ("IfcBeam", "IfcColumn", "IfcPlate", "IfcFooting")}
    assert kinds == {"IfcBeam": ["A1-4"], "IfcColumn": ["い1"], "IfcPlate": ["b1"], "IfcFooting": ["い1"]}
    column = model.by_type("IfcColumn")[0]
    psets = element.get_psets(column)
    assert psets["Pset_ColumnCommon"]["Reference"] == "い1"
    assert psets["Evenfoot_Timber"]["length_mm"] == 325.0
    assert psets["Evenfoot_Timber"]["species"] == "hinoki"
    assert psets["Qto_ColumnBaseQuantities"]["NetVolume"] == pytest.approx(0.105 * 0.105 * 0.325, abs=5e-10)
    assert element.get_material(column).Name == "sugi"
    assert element.get_container(column).is_a("IfcBuildingStorey")
    assert len({e.GlobalId for e in model.by_type("IfcRoot")}) == len(model.by_type("IfcRoot"))


def test_ifc_shapes_are_the_same_solids(floor, tmp_path):
    import ifcopenshell
    import ifcopenshell.geom
    import trimesh

    path = tmp_path / "floor.ifc"
    path.write_bytes(ifc_of(floor, title="t", date="2026-11-25"))
    model = ifcopenshell.open(path)
    settings = ifcopenshell.geom.settings()
    wanted = {(b.thing.value, b.mark): b.volume for b in floor}
    for kind, thing in (("IfcBeam", "joist"), ("IfcColumn", "post"), ("IfcPlate", "board"), ("IfcFooting", "footing")):
        for e in model.by_type(kind):
            shape = ifcopenshell.geom.create_shape(settings, e)
            points = np.array(shape.geometry.verts).reshape(-1, 3) * 1000.0
            mesh = trimesh.Trimesh(points, np.array(shape.geometry.faces).reshape(-1, 3))
            # coordinates are written to a ten-thousandth of a mm
            assert mesh.volume == pytest.approx(wanted[thing, e.Tag], rel=1e-6)


@pytest.mark.parametrize("write", [glb_of, lambda b: ifc_of(b, title="t", date="2026-11-25")])
def test_models_are_the_same_bytes_twice(floor, write):
    assert write(floor) == write(floor)
