// The station of level: how the frame lies, which feet to turn, how sure that is; as evenfoot set level.
import { standing } from "./log.js";
import { fixed } from "./rational.js";
import { lieOf, survey } from "./survey.js";
import { bestTurns, orderVisits } from "./turns.js";

const KINDS = ["frame-rod", "frame-level"];
const STAND = /^(\d+)(?:\/(\d+))?$/;

const readingsOf = (lines) => standing(lines).filter((line) => KINDS.includes(line.what));

/** A standing of the instrument within a survey. */
function standOf(line) {
  const found = STAND.exec(line.stand ?? "");
  return found ? { survey: Number(found[1]), number: Number(found[2] ?? 1) } : { survey: 0, number: 1 };
}

/** The last stand of a log, null before the first. */
export function lastStand(lines) {
  const every = readingsOf(lines).map(standOf);
  if (!every.length) return null;
  return every.reduce((a, b) => (b.survey > a.survey || (b.survey === a.survey && b.number > a.number) ? b : a));
}

export const standName = ({ survey: number, number: stand }) => `${number}/${stand}`;

/** The readings of the last survey in the order that they were read. */
export function lastSurvey(lines) {
  const last = lastStand(lines);
  return last === null ? [] : readingsOf(lines).filter((line) => standOf(line).survey === last.survey);
}

/** The readings that count: in each stand the last of each mark, but its first mark twice when it closed. */
function lastOfEach(sights) {
  const out = [];
  for (const stand of new Set(sights.map((s) => s.stand))) {
    const own = sights.filter((s) => s.stand === stand);
    const last = own[own.length - 1];
    const closes = own.length > 2 && own[0].mark === last.mark;
    const latest = new Map((closes ? own.slice(0, -1) : own).map((s) => [s.mark, s]));
    out.push(...latest.values(), ...(closes ? [last] : []));
  }
  return out;
}

const sightOf = (line) => ({
  stand: `${line.what} ${line.stand ?? ""}`,
  mark: line.mark,
  value: line.value_mm,
  isDown: line.what === "frame-rod",
  away: line.away_mm ?? null,
  accuracy: line.accuracy_mm ?? null,
});

/** The answer {lines, detail, record, isFine}; null without readings, throws SiteError when they are too few. */
export function answerLevel(level, lines, speaker) {
  const read = lastSurvey(lines);
  if (!read.length) return null;
  const instrument = { reading: level.rod_reading_mm, tilt: level.laser_tilt };
  const found = survey(lastOfEach(read.map(sightOf)), instrument);
  const spots = new Map(
    level.spots.map((s) => [s.mark, { at: [s.x_mm, s.y_mm], planned: s.planned_mm, isFoot: s.is_foot }]),
  );
  const lie = lieOf(found, spots, level.within_mm);
  const thread = { pitch: level.foot_pitch_mm, perTurn: level.steps_per_turn };
  const turns = bestTurns(
    lie.feet.map((foot) => [foot.mark, foot.off]),
    thread,
    level.within_mm,
  );
  const press = level.press && {
    marks: level.press.marks,
    level: level.press.level_n,
    stiffness: level.press.stiffness,
  };
  const visits = orderVisits(turns, thread, press);
  const unread = level.spots.filter((s) => s.is_foot && !turns.steps.has(s.mark)).map((s) => s.mark);
  const told = new Told({ found, lie, turns, thread, visits, unread }, speaker);
  return {
    lines: [told.lies(), told.action(), told.sure()],
    detail: [...told.order(), ...told.marks(), ...told.instrument(), ...told.unread()],
    record: told.record(),
    isFine: lie.isLevel && found.closures.every((c) => c.isClosed),
  };
}

class Told {
  constructor(answer, speaker) {
    Object.assign(this, { answer, speaker });
  }

  say(code, facts) {
    return this.speaker.say(`setting.level.${code}`, facts);
  }

  lies() {
    const { lie } = this.answer;
    const { speaker } = this;
    const low = lie.feet.reduce((a, b) => (b.off < a.off ? b : a));
    const high = lie.feet.reduce((a, b) => (b.off > a.off ? b : a));
    const said = this.say(lie.isLevel ? "level" : "not-level", {
      spread: speaker.small(lie.spread),
      low: speaker.mark(low.mark),
      high: speaker.mark(high.mark),
      within: speaker.small(lie.within),
    });
    return [said, this.tilt()].filter(Boolean).join(speaker.gap);
  }

  tilt() {
    const { lie } = this.answer;
    if (lie.tilt === null || lie.isLevel) return "";
    const ways = [];
    const { right, rightSure, away, awaySure } = lie.tilt;
    for (const [rise, sure, up, down] of [
      [right, rightSure, "right", "left"],
      [away, awaySure, "away", "house"],
    ]) {
      if (Math.abs(rise) <= sure) continue;
      const way_code = `setting.level.rises-${rise > 0 ? up : down}`;
      ways.push(this.say("rise", { way_code, by: fixed(Math.abs(rise) * 1000, 1) }));
    }
    const twist = this.speaker.small(lie.twist);
    if (!ways.length) return this.say("uneven", { twist });
    return this.say("tilted", { ways: ways.join(this.speaker.say("setting.square.and")), twist });
  }

  action() {
    const { turns, lie, found } = this.answer;
    const { speaker } = this;
    if (!found.closures.every((c) => c.isClosed)) return this.say("read-again");
    const moved = [...turns.steps].filter(([, steps]) => steps);
    if (!moved.length && turns.isWithin) return this.say("turn-none");
    const parts = speaker.join(moved.map(([mark, steps]) => this.turn(mark, steps)));
    if (turns.isWithin) return this.say("turn", { count: moved.length, feet: lie.feet.length, parts });
    const worst = Math.max(...[...turns.left.values()].map(Math.abs));
    const facts = { worst: speaker.small(worst), within: speaker.small(lie.within) };
    return this.say("turn-short", { parts: parts || this.say("nothing"), ...facts });
  }

  turn(mark, steps) {
    const { thread } = this.answer;
    const { speaker } = this;
    const size = Math.abs(steps);
    return this.say(size <= thread.perTurn ? "foot" : "foot-turns", {
      mark: speaker.mark(mark),
      way_code: `setting.level.${steps > 0 ? "up" : "down"}`,
      turns: speaker.turns(size, thread.perTurn),
      by: speaker.small((size * thread.pitch) / thread.perTurn),
    });
  }

  sure() {
    const { found, lie } = this.answer;
    const { speaker } = this;
    const said = [this.say("sure", { sure: speaker.plus(lie.sure) })];
    for (const c of found.closures) {
      const facts = { error: speaker.small(Math.abs(c.error)), allowed: speaker.plus(c.allowed) };
      said.push(this.say(c.isClosed ? "closed" : "open", facts));
    }
    if (lie.sure > lie.within) said.push(this.say("too-rough", { within: speaker.small(lie.within) }));
    else if (!found.closures.length) said.push(this.say("no-closure"));
    return said.join(speaker.gap);
  }

  names(marks) {
    return this.speaker.join(marks.map((mark) => this.speaker.mark(mark)));
  }

  order() {
    return this.answer.visits.map(({ mark, steps, lifts }, k) => {
      const facts = { number: k + 1, foot: this.turn(mark, steps) };
      return lifts.length
        ? this.say("visit-lifts", { ...facts, marks: this.names(lifts) })
        : this.say("visit", facts);
    });
  }

  marks() {
    const { lie, turns } = this.answer;
    const { speaker } = this;
    return lie.marks.map((m) => {
      const facts = { mark: speaker.mark(m.mark), off: speaker.signed(m.off), sure: speaker.plus(m.sure) };
      return m.isFoot
        ? this.say("mark-foot", { ...facts, left: speaker.signed(turns.left.get(m.mark)) })
        : this.say("mark", facts);
    });
  }

  instrument() {
    const { tilt, tiltSure } = this.answer.found;
    if (Math.abs(tilt) <= tiltSure) return [];
    const said = fixed(tilt * 1000, 2);
    return [this.say("tilt", { tilt: tilt > 0 ? `+${said}` : said, sure: fixed(tiltSure * 1000, 2) })];
  }

  unread() {
    const { unread } = this.answer;
    return unread.length ? [this.say("unread", { marks: this.names(unread) })] : [];
  }

  record() {
    const { found, lie, turns, thread, visits, unread } = this.answer;
    const { tilt } = lie;
    const step = thread.pitch / thread.perTurn;
    return {
      within_mm: lie.within,
      spread_mm: lie.spread,
      sure_mm: lie.sure,
      twist_mm: lie.twist,
      is_too_rough: lie.sure > lie.within,
      tilt: tilt && {
        right_mm_per_m: tilt.right * 1000,
        right_sure_mm_per_m: tilt.rightSure * 1000,
        away_mm_per_m: tilt.away * 1000,
        away_sure_mm_per_m: tilt.awaySure * 1000,
      },
      instrument_tilt_mm_per_m: found.tilt * 1000,
      closures: found.closures.map((c) => ({
        stand: c.stand,
        mark: c.mark,
        error_mm: c.error,
        allowed_mm: c.allowed,
        is_closed: c.isClosed,
      })),
      marks: lie.marks.map((m) => ({ mark: m.mark, off_mm: m.off, sure_mm: m.sure, is_foot: m.isFoot })),
      turns: [...turns.steps].map(([mark, steps]) => {
        return { mark, steps, lift_mm: steps * step, left_mm: turns.left.get(mark) };
      }),
      is_within_after: turns.isWithin,
      steps_per_turn: thread.perTurn,
      pitch_mm: thread.pitch,
      visits: visits.map((v) => ({ mark: v.mark, steps: v.steps, lifts: v.lifts })),
      unread,
    };
  }
}
