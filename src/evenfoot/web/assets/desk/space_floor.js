// The floor in space as a pen would draw it: paper faces in three flat tones and ink along every edge.
//
// A GLB file goes in; out comes a group with one mesh of faces and one of edges for each kind of thing, and the list
// of bodies with their marks. Everything of one kind is drawn at once, so that a long boardwalk turns as lightly as a
// step.

import {
  BufferAttribute,
  BufferGeometry,
  Color,
  EdgesGeometry,
  GLTFLoader,
  Group,
  LineBasicMaterial,
  LineMaterial,
  LineSegments,
  LineSegments2,
  LineSegmentsGeometry,
  Mesh,
  MeshBasicMaterial,
  Vector3,
} from "../vendor/three.js";

export const LOOK = { paper: "#f7f2e6", ink: "#1d1b18", pencil: "#6b655b", vermilion: "#b3321c" };

// Tones of a face by the way that it looks: up or down, along the wall, away from the house.
const TIMBER = ["#fcf9f1", "#ebe3d0", "#dfd5bf"];
const STONE = ["#eceae5", "#d9d6cf", "#cbc7bf"];
const CREASE_DEG = 20;
const OUTLINE_PX = 3;
// A board as wide as this on the screen keeps its full ink.
const CLEAR_DOTS = 8;

// Returns the floor that a GLB file (an ArrayBuffer) holds.
export async function readFloor(buffer) {
  const file = await new GLTFLoader().parseAsync(buffer, "");
  const held = new Map();
  const bodies = [];
  file.scene?.updateMatrixWorld(true);
  file.scene?.traverse((node) => {
    if (node.isMesh && node.userData.mark) bodies.push(addBody(held, node));
  });
  const group = new Group();
  const kinds = new Map();
  for (const [thing, part] of held) {
    const kind = { faces: facesOf(part), edges: edgesOf(part) };
    kind.faces.userData.thing = thing;
    kinds.set(thing, kind);
    group.add(kind.faces, kind.edges);
  }
  return { group, kinds, bodies, corners: cornersOf(bodies) };
}

// Adds one body to what its kind holds, and returns what is known of it: its mark and where its faces and edges lie.
function addBody(held, node) {
  const { mark, thing, label } = node.userData;
  if (!held.has(thing)) held.set(thing, { points: [], tones: [], edges: [] });
  const part = held.get(thing);
  const geometry = node.geometry.clone().applyMatrix4(node.matrixWorld);
  const body = { mark, thing, label: label ?? mark, triangle: part.points.length / 9, geometry };
  pushFaces(part, geometry, thing === "footing" ? STONE : TIMBER);
  body.triangles = part.points.length / 9 - body.triangle;
  const edges = new EdgesGeometry(geometry, CREASE_DEG);
  body.edges = edges.getAttribute("position").array;
  for (const value of body.edges) part.edges.push(value);
  geometry.computeBoundingBox();
  body.box = geometry.boundingBox;
  return body;
}

function pushFaces(part, geometry, tones) {
  const points = geometry.getAttribute("position");
  const normals = geometry.getAttribute("normal");
  const colours = tones.map((tone) => new Color(tone));
  const index = geometry.index?.array ?? Array.from({ length: points.count }, (_, k) => k);
  for (const corner of index) {
    part.points.push(points.getX(corner), points.getY(corner), points.getZ(corner));
    const [x, y, z] = [normals.getX(corner), normals.getY(corner), normals.getZ(corner)].map(Math.abs);
    const tone = colours[y >= x && y >= z ? 0 : x >= z ? 1 : 2];
    part.tones.push(tone.r, tone.g, tone.b);
  }
}

function facesOf(part) {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(part.points), 3));
  geometry.setAttribute("color", new BufferAttribute(new Float32Array(part.tones), 3));
  // Faces step back a hair, so that the ink along their edges is never swallowed.
  const material = new MeshBasicMaterial({
    vertexColors: true,
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
  });
  return new Mesh(geometry, material);
}

function edgesOf(part) {
  return segments(part.edges, new LineBasicMaterial({ color: LOOK.ink }));
}

function segments(points, material) {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(points), 3));
  return new LineSegments(geometry, material);
}

// Returns the corners of the boxes around all bodies: what a view has to hold.
function cornersOf(bodies) {
  const out = [];
  for (const { box } of bodies) {
    for (const x of [box.min.x, box.max.x]) {
      for (const y of [box.min.y, box.max.y]) {
        for (const z of [box.min.z, box.max.z]) out.push(new Vector3(x, y, z));
      }
    }
  }
  return out;
}

// Returns the body that a triangle of one kind belongs to.
export function bodyAt(floor, thing, triangle) {
  return floor.bodies.find(
    (body) => body.thing === thing && triangle >= body.triangle && triangle < body.triangle + body.triangles,
  );
}

// Makes the ink between boards lighter from far off, so that many boards do not run together into black; `dots` are the
// screen's dots that a metre takes.
export function thin(floor, dots) {
  const kind = floor.kinds.get("board");
  if (!kind) return;
  const wide = Math.min(...floor.bodies.filter((body) => body.thing === "board").map((body) => narrow(body.box)));
  const share = Math.min(1, Math.max(0.12, (wide * dots) / CLEAR_DOTS));
  kind.edges.material.color.lerpColors(new Color(TIMBER[0]), new Color(LOOK.ink), share);
}

function narrow({ min, max }) {
  return Math.min(max.x - min.x, max.z - min.z);
}

// Returns the vermilion outline of some bodies: strong where it is seen, fine where something stands before it.
export function outlineOf(bodies) {
  const points = bodies.flatMap((body) => Array.from(body.edges));
  const group = new Group();
  if (!points.length) return group;
  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(points);
  const strong = new LineSegments2(geometry, new LineMaterial({ color: LOOK.vermilion, linewidth: OUTLINE_PX }));
  const fine = segments(points, new LineBasicMaterial({ color: LOOK.vermilion, depthTest: false }));
  strong.renderOrder = 1;
  fine.renderOrder = 2;
  group.add(fine, strong);
  return group;
}

// Returns the line of the house wall at the level of the floor indoors, as long as the floor and a little more, with
// the place of its name: beside its left end, on the side of the house.
export function wallOf(floor) {
  const xs = floor.corners.map((corner) => corner.x);
  const [left, right] = [Math.min(...xs) - 0.2, Math.max(...xs) + 0.2];
  const wall = segments([left, 0, 0, right, 0, 0], new LineBasicMaterial({ color: LOOK.pencil }));
  wall.userData.name = new Vector3(left, 0, 0.03 * (right - left) + 0.1);
  return wall;
}

// Gives back what a drawn thing holds of the screen's memory.
export function release(object) {
  object.removeFromParent();
  object.traverse((node) => {
    node.geometry?.dispose();
    node.material?.dispose();
  });
}
