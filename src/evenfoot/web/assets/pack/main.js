// Where the page begins; beside the page the same script only reckons.
import { App } from "./app.js";
import { Reckoner, serve } from "./reckoner.js";
import { boardsStation } from "./station_boards.js";
import { drawingsStation } from "./station_drawings.js";
import { levelStation } from "./station_level.js";
import { postsStation } from "./station_posts.js";
import { readingsStation } from "./station_readings.js";
import { squareStation } from "./station_square.js";
import { stepsStation } from "./station_steps.js";
import { timbersStation } from "./station_timbers.js";

const STATIONS = [
  squareStation,
  levelStation,
  postsStation,
  boardsStation,
  timbersStation,
  stepsStation,
  drawingsStation,
  readingsStation,
];

if (typeof document === "undefined") {
  serve(globalThis);
} else {
  const source = document.currentScript.textContent;
  const pack = JSON.parse(document.getElementById("pack").textContent);
  let app = null;
  const reckoner = new Reckoner(pack, source, () => app?.render());
  app = new App(pack, document.getElementById("page"), STATIONS, reckoner);
}
