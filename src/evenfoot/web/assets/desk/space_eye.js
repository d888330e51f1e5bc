// The eye on the floor in space: a parallel picture, four places to look from, and every move by mouse, touch and keys.

import { OrbitControls, OrthographicCamera, Vector3 } from "../vendor/three.js";

// From where the eye looks: degrees from the wall's direction toward the garden, and degrees above level.
// The corner is where the sheets look from.
export const VIEWS = { corner: [52, 27], above: [-90, 90], front: [90, 0], side: [0, 0] };

const TURN_DEG = 7.5;
const STEP_PX = 48;
const CLOSER = 1.25;
const MARGIN = 1.12;
const FAR = 6;

export class Eye {
  constructor(canvas, onMove) {
    this.canvas = canvas;
    this.camera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enableDamping = false;
    this.controls.zoomToCursor = true;
    this.controls.addEventListener("change", onMove);
    this.corners = [];
  }

  // Tells what there is to look at; the eye itself stays where it is.
  holds(corners) {
    this.corners = corners;
  }

  // Takes the shape of the canvas; what was in the middle stays there, at its size.
  fits(width, height) {
    const across = width / Math.max(1, height);
    this.camera.left = -across;
    this.camera.right = across;
    this.camera.updateProjectionMatrix();
  }

  // Looks at everything from one of VIEWS.
  look(view) {
    const [around, above] = VIEWS[view].map((deg) => (deg * Math.PI) / 180);
    const level = Math.cos(above);
    const toward = new Vector3(level * Math.cos(around), Math.sin(above), -level * Math.sin(around));
    // Straight down, the last bit of lean says which way is up on the screen: away from the house, as on the plan.
    if (view === "above") toward.set(0, 1, 1e-6);
    const middle = this.#middle();
    const reach = Math.max(1, ...this.corners.map((corner) => corner.distanceTo(middle)));
    this.camera.position.copy(middle).addScaledVector(toward, FAR * reach);
    this.controls.target.copy(middle);
    this.camera.lookAt(middle);
    this.camera.updateMatrixWorld(true);
    this.#fill();
    this.controls.update();
  }

  // Sets the nearest and farthest that is drawn around what there is, wherever the eye has gone.
  clips() {
    this.camera.updateMatrixWorld(true);
    const depths = this.corners.map((corner) => -corner.clone().applyMatrix4(this.camera.matrixWorldInverse).z);
    this.camera.near = Math.min(0, ...depths) - 1;
    this.camera.far = Math.max(0, ...depths) + 1;
    this.camera.updateProjectionMatrix();
  }

  #middle() {
    const low = new Vector3(Infinity, Infinity, Infinity);
    const high = low.clone().negate();
    for (const corner of this.corners) {
      low.min(corner);
      high.max(corner);
    }
    return this.corners.length ? low.add(high).multiplyScalar(0.5) : new Vector3();
  }

  // Brings everything into the picture, in its middle.
  #fill() {
    const seen = this.corners.map((corner) => corner.clone().applyMatrix4(this.camera.matrixWorldInverse));
    if (!seen.length) return;
    const xs = seen.map((point) => point.x);
    const ys = seen.map((point) => point.y);
    const wide = Math.max(...xs) - Math.min(...xs);
    const high = Math.max(...ys) - Math.min(...ys);
    const right = new Vector3(1, 0, 0).transformDirection(this.camera.matrixWorld);
    const up = new Vector3(0, 1, 0).transformDirection(this.camera.matrixWorld);
    const shift = right
      .multiplyScalar((Math.max(...xs) + Math.min(...xs)) / 2)
      .addScaledVector(up, (Math.max(...ys) + Math.min(...ys)) / 2);
    this.camera.position.add(shift);
    this.controls.target.add(shift);
    const across = this.camera.right;
    this.camera.zoom = Math.min((2 * across) / (wide * MARGIN), 2 / (high * MARGIN));
    this.controls.minZoom = this.camera.zoom / 8;
    this.controls.maxZoom = this.camera.zoom * 60;
    this.camera.updateProjectionMatrix();
  }

  // Turns about the floor: right and up in steps of a few degrees.
  turn(right, up) {
    this.controls.rotateLeft((right * TURN_DEG * Math.PI) / 180);
    this.controls.rotateUp((up * TURN_DEG * Math.PI) / 180);
  }

  // Moves the picture in steps on the screen.
  slide(right, up) {
    this.controls.pan(-right * STEP_PX, up * STEP_PX);
  }

  // Comes closer by some steps; fewer than none is further off.
  come(steps) {
    const wanted = this.camera.zoom * CLOSER ** steps;
    this.camera.zoom = Math.min(this.controls.maxZoom, Math.max(this.controls.minZoom, wanted));
    this.camera.updateProjectionMatrix();
    this.controls.dispatchEvent({ type: "change" });
  }

  // Returns where the eye is, to be compared: moving from one floor to the next changes nothing of it.
  get place() {
    const { position, zoom } = this.camera;
    return { position: position.toArray(), target: this.controls.target.toArray(), zoom };
  }

  // Does what a key asks for and returns whether it asked for anything.
  answer(event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return false;
    const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    const move = moves[event.key];
    if (move) {
      if (event.shiftKey) this.slide(...move);
      else this.turn(...move);
    } else if (event.key === "+" || event.key === "=" || event.key === ";") this.come(1);
    else if (event.key === "-") this.come(-1);
    else if (event.key === "Home") this.look("corner");
    else return false;
    return true;
  }

  dispose() {
    this.controls.dispose();
  }
}
