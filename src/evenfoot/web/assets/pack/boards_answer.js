// The station of boards: which spacers next, where the last edge lands, every mark; as evenfoot set boards.
import { NINETEEN_IN_TWENTY, SiteError } from "./fit.js";
import { latest } from "./log.js";
import { exactSum } from "./linear.js";
import { boardMarks, runningGap } from "./run.js";

const ENOUGH = 3;
const SIDES = { "": "", l: "left", r: "right" };
const ROW = /^b?(\d+)(?:\.\d+)?\s*(left|right|l|r)?$/i;

/** The row and end that a mark names: {row, side}, null for none. */
export function rowOf(mark) {
  const found = ROW.exec(mark.trim());
  if (!found) return null;
  return { row: Number(found[1]), side: SIDES[(found[2] ?? "").slice(0, 1).toLowerCase()] };
}

/** A row and end as a line of the log marks it. */
export const rowMark = (row, side) => `b${row} ${side}`.trim();

const mean = (values) => exactSum(values) / values.length;

function stdev(values) {
  const middle = mean(values);
  return Math.sqrt(exactSum(values.map((value) => (value - middle) ** 2)) / (values.length - 1));
}

/** What was measured: edges [{row, side, value}], widths by row. */
function readingsOf(lines) {
  const edges = latest(lines, "board-edge").map((line) => ({ ...rowOf(line.mark), value: line.value_mm }));
  const widths = new Map(latest(lines, "board-width").map((line) => [rowOf(line.mark).row, line.value_mm]));
  return { edges, widths };
}

/** The last row laid at both ends, or at the ends that were read. */
export function laidOf(lines) {
  const { edges } = readingsOf(lines);
  const laid = edges.reduce((most, edge) => Math.max(most, edge.row), 0);
  const found = new Set(edges.filter((edge) => edge.row === laid).map((edge) => edge.side));
  const isEach = found.has("left") && found.has("right");
  return { laid, sides: isEach ? ["left", "right"] : [[...found].sort().pop() ?? ""] };
}

/** The answer {lines, detail, marks, record, isFine}; throws SiteError run-done when every row is laid. */
export function answerBoards(boards, lines, speaker, { every = 1 } = {}) {
  const read = readingsOf(lines);
  const { laid, sides } = laidOf(lines);
  if (laid > boards.rows.length) throw new SiteError("row-unknown", String(laid));
  const spacing = {
    low: boards.gap_low_mm,
    high: boards.gap_high_mm,
    step: boards.gap_step_mm,
    seen: boards.gap_seen_mm,
    within: boards.within_mm,
    ripMin: boards.rip_min_mm,
  };
  const ends = sides.map((side) => endOf(boards, read, { side, laid, spacing, every }));
  const moist = moistOf(boards, lines, ends[0].gap);
  const told = new Told(boards, read, ends, speaker);
  return {
    lines: told.lines(),
    detail: [...told.hook(), ...told.marks(), ...told.measured(), ...told.moist(moist)],
    ends,
    record: recordOf(boards, read, ends, moist),
    isFine: ends.every((end) => end.gap.rip === null),
  };
}

function endOf(boards, read, { side, laid, spacing, every }) {
  const edge = read.edges.filter((e) => e.row === laid && e.side === side).pop()?.value ?? null;
  const toCome = boards.rows.slice(laid).map(([number, near, far]) => ({ number, near, far }));
  const planned = (row) => boards.rows[row - 1][2] - boards.rows[row - 1][1];
  const off = [...read.widths].map(([row, value]) => value - planned(row));
  const isKnown = off.length >= ENOUGH;
  const [common, spread] = isKnown ? [mean(off), stdev(off)] : [0, 0];
  const widths = toCome.map((row) => read.widths.get(row.number) ?? row.far - row.near + common);
  const run = {
    left: boards.line_mm - (edge ?? 0),
    widths,
    lastGap: edge === null ? null : lastGap(boards, read, side, laid),
    leftSigma: boards.tape_reading_mm / NINETEEN_IN_TWENTY,
    widthSigma: isKnown ? spread : boards.board_width_mm / NINETEEN_IN_TWENTY,
    commonSigma: isKnown ? spread / off.length ** 0.5 : boards.board_batch_mm / NINETEEN_IN_TWENTY,
  };
  const gap = runningGap(run, spacing);
  return { side, laid, at: edge, gap, marks: boardMarks(toCome, { laidTo: edge, gaps: gap.gaps, widths, every }) };
}

/** The gap laid last: as the last two edges say, else as planned. */
function lastGap(boards, read, side, laid) {
  const at = (row) => read.edges.filter((e) => e.row === row && e.side === side).pop()?.value;
  const before = at(laid - 1);
  if (before === undefined || !read.widths.has(laid)) return boards.gap_mm;
  return at(laid) - before - read.widths.get(laid);
}

/** What the next gap becomes over the year, by the moistures of rows in the log; null without. */
function moistOf(boards, lines, gap) {
  const read = latest(lines, "moisture").filter((line) => rowOf(line.mark));
  if (!read.length) return null;
  const { moist } = boards;
  const now = mean(read.map((line) => line.value_pct));
  const laid = gap.gaps.length ? gap.gaps[0] : boards.gap_mm;
  const bound = (value) => Math.min(value, moist.fsp_pct);
  const change = (start, finish) => boards.board_mm * moist.c_tangential * (bound(finish) - bound(start));
  return {
    read: now,
    planned: moist.day_pct,
    laid,
    dry: laid - change(now, moist.dry_pct),
    wet: laid - change(now, moist.wet_pct),
    advised: boards.gap_mm - change(moist.day_pct, now),
  };
}

class Told {
  constructor(boards, read, ends, speaker) {
    Object.assign(this, { boards, read, ends, speaker });
    this.isAlike = ends.length === 1;
    this.isVague = read.widths.size < ENOUGH && ends.some((end) => end.gap.sure > boards.within_mm);
  }

  say(code, facts) {
    return this.speaker.say(`setting.boards.${code}`, facts);
  }

  named(end, text) {
    return this.isAlike ? text : this.say("at-end", { side_code: `setting.boards.${end.side}`, text });
  }

  lines() {
    const { ends, speaker } = this;
    const worst = ends.reduce((a, b) => (b.gap.sure > a.gap.sure ? b : a));
    const first = ends.map((end) => this.named(end, this.spacers(end)));
    const second = ends.map((end) => this.named(end, this.landing(end)));
    return [first.join(speaker.gap), second.join(speaker.gap), this.sure(worst)];
  }

  spacers(end) {
    if (!end.gap.batches.length) return this.say("no-gap");
    let row = end.at === null ? 1 : end.laid;
    const parts = end.gap.batches.map(({ count, gap }) => {
      const first = row + 1;
      row += count;
      return this.say(count === 1 ? "batch-one" : "batch", { gap: this.speaker.small(gap), first, last: row });
    });
    return this.say("spacers", { parts: parts.join(this.say("then")) });
  }

  landing(end) {
    const { gap } = end;
    const { speaker, boards } = this;
    const facts = { where: this.where(gap.misses), within: speaker.small(boards.within_mm) };
    if (gap.rip === null) return this.say("lands", facts);
    const { count, width } = gap.rip;
    if (!width) return this.say("out-of-reach", facts);
    const said = { ...facts, width: speaker.said(width) };
    if (!count) return this.say("one-more", said);
    const last = boards.rows[boards.rows.length - 1][0];
    return this.say(count === 1 ? "rip-one" : "rip", { ...said, first: last - count + 1, last });
  }

  where(misses) {
    const by = this.speaker.small(Math.abs(misses));
    if (by === this.speaker.small(0)) return this.say("on-line");
    return this.say(misses > 0 ? "past" : "short", { by });
  }

  sure(end) {
    const left = this.boards.rows[this.boards.rows.length - 1][0] - end.laid;
    const row = end.laid + Math.max(1, Math.floor(left / 2));
    const said = this.say("sure", { sure: this.speaker.plus(end.gap.sure), row });
    return this.isVague ? [said, this.say("measure-widths")].join(this.speaker.gap) : said;
  }

  hook() {
    const start_code = `setting.boards.start-${this.boards.start}`;
    return [this.say(this.isAlike ? "hook" : "hook-each", { start_code })];
  }

  marks() {
    const said = (mm) => this.speaker.said(mm);
    return this.ends.flatMap((end) =>
      end.marks.map((m) => {
        const planned = { planned_near: said(m.plannedNear), planned_far: said(m.plannedFar) };
        return this.named(end, this.say("mark", { row: m.row, near: said(m.near), far: said(m.far), ...planned }));
      }),
    );
  }

  measured() {
    const { speaker, boards } = this;
    return [...this.read.widths]
      .sort(([a], [b]) => a - b)
      .map(([row, width]) => {
        const [, near, far] = boards.rows[row - 1];
        return this.say("measured", { row, width: speaker.said(width), planned: speaker.said(far - near) });
      });
  }

  moist(moist) {
    if (moist === null) return [];
    const small = (mm) => this.speaker.small(mm);
    const gaps = {
      laid: small(moist.laid),
      dry: small(moist.dry),
      wet: small(moist.wet),
      advised: small(moist.advised),
    };
    return [this.say("moist", { read: moist.read.toFixed(1), planned: String(moist.planned), ...gaps })];
  }
}

function recordOf(boards, read, ends, moist) {
  return {
    moisture: moist && {
      read_pct: moist.read,
      planned_pct: moist.planned,
      laid_mm: moist.laid,
      dry_mm: moist.dry,
      wet_mm: moist.wet,
      advised_mm: moist.advised,
    },
    rows: boards.rows.length,
    line_mm: boards.line_mm,
    planned_gap_mm: boards.gap_mm,
    within_mm: boards.within_mm,
    step_mm: boards.gap_step_mm,
    measured_widths: [...read.widths].sort(([a], [b]) => a - b).map(([row, width]) => ({ row, width_mm: width })),
    ends: ends.map((end) => ({
      side: end.side || "both",
      laid_rows: end.laid,
      laid_to_mm: end.at,
      even_gap_mm: end.gap.even,
      spacers: end.gap.batches.map((b) => ({ boards: b.count, gap_mm: b.gap })),
      misses_mm: end.gap.misses,
      sure_mm: end.gap.sure,
      is_reachable: end.gap.rip === null,
      rip: end.gap.rip && { boards: end.gap.rip.count, width_mm: end.gap.rip.width },
      marks: end.marks.map((m) => ({
        row: m.row,
        near_mm: m.near,
        far_mm: m.far,
        planned_near_mm: m.plannedNear,
        planned_far_mm: m.plannedFar,
      })),
    })),
  };
}
