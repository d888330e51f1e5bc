// The station of squaring: readings of the log in, the engine's three lines and its detail out.
import { fixed } from "./rational.js";
import { isProved, isSquare, squareUp } from "./square.js";
import { latest } from "./log.js";

const DEGREES = 180 / Math.PI;

export const pairName = ([a, b]) => `${Math.min(a, b) + 1}-${Math.max(a, b) + 1}`;
const same = (a, b) => pairName(a) === pairName(b);

/** Every distance of the log that counts, in the order that they were first read. */
export function distancesOf(lines) {
  const found = new Map();
  for (const line of latest(lines, "distance")) {
    const [a, b] = line.mark.split("-").map(Number);
    found.set(pairName([a - 1, b - 1]), {
      pair: [a - 1, b - 1],
      value: line.value_mm,
      accuracy: line.accuracy_mm ?? null,
    });
  }
  return [...found.values()];
}

/** The answer {lines, detail, record, isFine} by the squaring targets and the lines of a log; null without any. */
export function answerSquare(square, lines, speaker) {
  const distances = distancesOf(lines);
  if (!distances.length) return null;
  const wanted = { corners: square.corners_mm, isSizeKnown: true, within: square.within_mm };
  const tape = { reading: square.tape_reading_mm, scale: square.tape_scale };
  const result = squareUp(wanted, distances, tape);
  let without = null;
  if (result.suspects.length === 1) {
    const kept = distances.filter((d) => !same(d.pair, result.suspects[0].pair));
    without = squareUp(wanted, kept, tape);
  }
  const told = new Told(result, speaker);
  return {
    lines: told.lines(without),
    detail: told.detail(without),
    record: recordOf(result),
    isFine: isSquare(result),
  };
}

/** One result, ready to be told. */
class Told {
  constructor(result, speaker) {
    Object.assign(this, { r: result, speaker });
  }

  say(code, facts) {
    return this.speaker.say(`setting.square.${code}`, facts);
  }

  lines(without) {
    const { r } = this;
    if (r.shape === "open") {
      return [
        this.say("open"),
        this.say("open-do", { pairs: r.missing.map(pairName).join(", ") }),
        this.say("open-why"),
      ];
    }
    if (!r.suspects.length) return [this.shape(), this.action(), this.sure()];
    const then = without ? new Told(without, this.speaker).without() : this.say("doubt-which");
    return [this.doubt(), then, this.sure()];
  }

  facts() {
    const { r, speaker } = this;
    return { by: speaker.small(Math.abs(r.lean)), sure: speaker.plus(r.leanSure), within: speaker.small(r.within) };
  }

  shape() {
    const { r, speaker } = this;
    const facts = this.facts();
    if (r.shape === "square") return this.say(isProved(r) ? "square" : "square-unproved", facts);
    if (r.shape === "leaning") return this.say("leaning", { ...facts, way_code: wayCode(r.lean) });
    if (!r.leanSure) return this.say("crooked-many", { count: r.pushes.length, within: speaker.small(r.within) });
    const longest = this.longest();
    if (this.isOtherSize()) return this.say("other-size", { ...facts, sizes: this.sizes() });
    if (!longest) return this.say("crooked-lean", { ...facts, way_code: wayCode(r.lean) });
    return this.say(r.shape === "trapezoid" ? "trapezoid" : "crooked", {
      ...facts,
      side: pairName(longest.pair),
      excess: speaker.small(Math.abs(longest.excess)),
      more_code: longest.excess > 0 ? "setting.more.long" : "setting.more.short",
    });
  }

  action() {
    const { r, speaker } = this;
    const target = r.diagonals.length ? speaker.said(r.diagonals[0].target) : "";
    const longest = this.longest();
    if (r.shape === "square") return r.leanSure ? this.say("square-do", { target }) : this.say("square-many-do");
    if (!r.leanSure) {
      const worst = r.pushes.reduce((a, b) => (Math.hypot(b.dx, b.dy) > Math.hypot(a.dx, a.dy) ? b : a));
      return this.say("push-one", { corner: this.corner(worst.corner), how: this.how(worst) });
    }
    if (this.isOtherSize()) return this.say("other-size-do", { target });
    const parts = [];
    if (longest) {
      const code = longest.excess > 0 ? "cut" : "lengthen";
      parts.push(this.say(code, { side: pairName(longest.pair), by: speaker.small(Math.abs(longest.excess)) }));
    }
    if (Math.abs(r.lean) > r.within) parts.push(this.push());
    parts.push(this.say("then", { target }));
    return parts.join(speaker.gap);
  }

  isOtherSize() {
    const { r } = this;
    if (r.shape !== "crooked" || !r.leanSure || Math.abs(r.lean) > r.within) return false;
    return [0, 1].every((k) => Math.abs(r.sides[k].length - r.sides[k + 2].length) <= r.within);
  }

  sizes() {
    const [width, depth] = this.r.sides;
    const said = (mm) => this.speaker.said(mm);
    const wanted = { wanted_width: said(width.target), wanted_depth: said(depth.target) };
    return this.say("sizes", { width: said(width.length), depth: said(depth.length), ...wanted });
  }

  push() {
    const { lean } = this.r;
    const corner = lean > 0 ? 2 : 3;
    const by = this.speaker.small(Math.abs(lean));
    return this.say("push", { corner: this.corner(corner), other: 5 - corner + 1, by, way_code: wayCode(-lean) });
  }

  longest() {
    const wrong = this.r.sides.filter((s) => Math.abs(s.excess) > this.r.within);
    return wrong.reduce((a, b) => (a && Math.abs(a.excess) >= Math.abs(b.excess) ? a : b), null);
  }

  sure() {
    const { r, speaker } = this;
    const spare = r.spare ? this.say("spare", { count: r.spare }) : this.say("no-spare");
    const longest = this.longest();
    const widest = longest ? longest.sure : Math.max(0, ...r.sides.map((s) => s.sure));
    const isOfLean = r.leanSure && r.shape !== "trapezoid";
    return this.say("sure", { sure: speaker.plus(isOfLean ? r.leanSure : widest), spare });
  }

  doubt() {
    const { suspects } = this.r;
    if (suspects.length > 1) {
      return this.say("doubt-several", { pairs: suspects.map((s) => pairName(s.pair)).join(", ") });
    }
    return `${this.say("disagree")}${this.speaker.gap}${this.suspect(suspects[0])}`;
  }

  suspect(one) {
    const { speaker } = this;
    return this.say("doubt-one", {
      pair: pairName(one.pair),
      found: speaker.said(one.found),
      expected: speaker.said(one.expected),
      sure: speaker.plus(one.sure),
      slip_code: `setting.slip.${one.slip ? one.slip.kind : "none"}`,
    });
  }

  without() {
    if (this.r.shape === "open") return this.say("doubt-again");
    return this.say("without", { rest: [this.shape(), this.action()].join(this.speaker.gap) });
  }

  corner(index) {
    const number = index + 1;
    if (!this.r.leanSure) return this.say("corner-bare", { number });
    return this.say("corner", { number, place_code: `setting.corner-${index}` });
  }

  how({ dx, dy }) {
    const parts = [];
    for (const [by, ways] of [
      [dx, ["right", "left"]],
      [dy, ["away", "house"]],
    ]) {
      if (Math.abs(by) < 0.25) continue;
      const way = `setting.way.${by > 0 ? ways[0] : ways[1]}`;
      parts.push(this.say("move", { by: this.speaker.small(Math.abs(by)), way_code: way }));
    }
    return parts.join(this.say("and"));
  }

  detail(without) {
    const { r, speaker } = this;
    const better = without ? new Told(without, speaker).readings() : [];
    if (!r.suspects.length) return this.readings();
    return [...(r.suspects.length > 1 ? r.suspects.map((one) => this.suspect(one)) : []), ...better];
  }

  readings() {
    const { r, speaker } = this;
    const told = ({ pair, length, target, sure }) => ({
      pair: pairName(pair),
      now: speaker.said(length),
      target: speaker.said(target),
      sure: speaker.plus(sure),
    });
    return [
      ...r.sides.map((s) => this.say("side", { ...told(s), excess: speaker.signed(s.excess) })),
      ...r.diagonals.map((d) => this.say("diagonal", told(d))),
      ...r.corners.map((c) => {
        const off = fixed(c.angleError * DEGREES, 2);
        return this.say("angle", {
          corner: this.corner(c.index),
          off: off.startsWith("-") ? off : `+${off}`,
          sure: fixed(c.angleSure * DEGREES, 2),
        });
      }),
      ...(r.leanSure ? [] : r.pushes)
        .filter((p) => this.how(p))
        .map((p) => this.say("push-one", { corner: this.corner(p.corner), how: this.how(p) })),
    ];
  }
}

const wayCode = (lean) => (lean > 0 ? "setting.way.right" : "setting.way.left");

export function recordOf(r) {
  const read = (s) => ({ between: pairName(s.pair), length_mm: s.length, target_mm: s.target, sure_mm: s.sure });
  return {
    shape: r.shape,
    is_proved: isProved(r),
    within_mm: r.within,
    lean_mm: r.lean,
    lean_sure_mm: r.leanSure,
    spare_readings: r.spare,
    missing: r.missing.map(pairName),
    sides: r.sides.map((s) => ({ ...read(s), excess_mm: s.excess })),
    diagonals: r.diagonals.map(read),
    corners: r.corners.map((c) => ({
      corner: c.index + 1,
      x_mm: c.at[0],
      y_mm: c.at[1],
      angle_error_deg: c.angleError * DEGREES,
      angle_sure_deg: c.angleSure * DEGREES,
    })),
    pushes: r.pushes.map((p) => ({ corner: p.corner + 1, right_mm: p.dx, away_mm: p.dy, sure_mm: p.sure })),
    suspects: r.suspects.map((s) => ({
      between: pairName(s.pair),
      found_mm: s.found,
      expected_mm: s.expected,
      sure_mm: s.sure,
      slip: s.slip ? s.slip.kind : null,
    })),
  };
}
