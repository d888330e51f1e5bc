// A floor on its feet in words: rock, tipping, what to shave, pack or swap, every foot.
import { cutRecord } from "./posts_cut.js";
import { GRAVITY } from "./walk.js";

const say = (speaker, code, facts) => speaker.say(`setting.posts.${code}`, facts);

/** The answer of a floor whose clearances are known. */
export function standAnswer(site, stood, speaker) {
  const told = new Told(site, stood, speaker);
  const { walked, remedy } = stood;
  const isSafe = walked.standsEmpty && !walked.tips.length;
  return {
    stage: "stand",
    lines: [told.state(), told.action(), told.sure()],
    detail: [...told.dangers(), ...told.feet(), ...told.proof(), told.walkedOver(), say(speaker, "caution")],
    record: told.record(),
    isFine: isSafe && remedy !== null && remedy.before.isSteady && walked.jump === null,
  };
}

/** How the floor stands and rocks, told before it is known what would help. */
export function walkedAnswer(site, walked, speaker) {
  const told = new Told(
    site,
    { known: site.known, walked, rest: walked.empty, remedy: null, rockSure: 0 },
    speaker,
  );
  return {
    stage: "stand",
    lines: [told.state(), speaker.say("pack.reckoning-remedy")],
    detail: [...told.dangers(), ...told.feet()],
    record: told.record(),
    isFine: false,
  };
}

class Told {
  constructor(site, stood, speaker) {
    Object.assign(this, { site, stood, speaker });
    this.frame = site.whole.frame;
    this.limit = site.posts.figures.rock_limit_mm;
  }

  say(code, facts) {
    return say(this.speaker, code, facts);
  }

  state() {
    const { speaker, frame, limit } = this;
    const { walked } = this.stood;
    if (!walked.standsEmpty) return this.say("falls");
    if (walked.tips.length) {
      const spot = speaker.spot(frame, walked.tips[0]);
      return this.say("tips", { kg: speaker.kg(this.site.person), spot, count: walked.tips.length });
    }
    const facts = {
      rock: speaker.fine(walked.rock),
      mark: speaker.mark(walked.mark),
      highest: speaker.someone(frame, walked.highest),
      lowest: speaker.someone(frame, walked.lowest),
      limit: speaker.fine(limit),
    };
    if (walked.rock > limit) return this.say(walked.jump === null ? "rocks" : "jumps", facts);
    if (walked.hang > limit + 0.01) return this.say("hangs-still", { ...facts, hang: speaker.fine(walked.hang) });
    return this.say("steady", facts);
  }

  action() {
    const { speaker } = this;
    const { remedy } = this.stood;
    if (remedy === null) return this.say("prop");
    if (remedy.before.isSteady) return this.say("leave");
    if (remedy.swaps.length) {
      const pairs = remedy.swaps.map(([a, b]) => `${speaker.mark(a)} ↔ ${speaker.mark(b)}`);
      return this.say("swap", { pairs: speaker.join(pairs) });
    }
    if (!remedy.isFound)
      return this.say("no-remedy", { step: speaker.small(this.site.posts.figures.post_step_mm) });
    return this.say("change", { changes: this.changes(remedy) });
  }

  changes(remedy) {
    const { speaker } = this;
    const parts = [];
    for (const hand of ["shave", "pack"]) {
      const these = remedy.changes.filter((c) => c.by > 0 === (hand === "pack"));
      const posts = speaker.join(these.map((c) => `${speaker.mark(c.mark)} ${speaker.by(Math.abs(c.by))}`));
      if (these.length) parts.push(this.say(hand, { posts }));
    }
    return parts.join(speaker.isJapanese ? "、" : "; ");
  }

  sure() {
    const { known, rockSure } = this.stood;
    const code = known.bases.includes("seen") ? "sure-seen" : "sure-cut";
    return this.say(code, { sure: this.speaker.fine(Math.ceil(10 * rockSure - 1e-9) / 10) });
  }

  dangers() {
    const { speaker } = this;
    const { walked } = this.stood;
    const out = [];
    if (walked.tips.length) out.push(this.say("tips-why", { count: walked.tips.length, places: walked.places }));
    if (walked.jump) {
      const { mark, fall, at } = walked.jump;
      const spot = speaker.spot(this.frame, at);
      out.push(this.say("jump", { fall: speaker.fine(fall), mark: speaker.mark(mark), spot }));
    }
    return out;
  }

  feet() {
    const { speaker } = this;
    const { walked, rest } = this.stood;
    if (!walked.standsEmpty) return [];
    return walked.marks.map((mark, k) => {
      const facts = { mark: speaker.mark(mark), travel: speaker.fine(walked.travel[k]) };
      if (rest.gap[k] > 0) return this.say("foot-hangs", { ...facts, gap: speaker.fine(rest.gap[k]) });
      return this.say("foot-stands", { ...facts, kg: speaker.kg(rest.press[k]) });
    });
  }

  proof() {
    const { speaker } = this;
    const { remedy, hasLevel } = this.stood;
    if (remedy === null || remedy.before.isSteady) return [];
    const { before, after } = remedy;
    const out = [];
    if (remedy.isFound) {
      out.push(
        this.say("proof", {
          before: speaker.fine(before.rock),
          after: speaker.fine(after.rock),
          hang_before: speaker.fine(before.hang),
          hang_after: speaker.fine(after.hang),
          press_before: speaker.kg(before.press),
          press_after: speaker.kg(after.press),
        }),
      );
      if (hasLevel)
        out.push(this.say("level", { before: speaker.fine(before.off), after: speaker.fine(after.off) }));
    }
    if (!remedy.swaps.length && remedy.isFound) {
      const count = remedy.changes.length;
      const { least, isProved } = remedy;
      out.push(isProved ? this.say("fewest", { count }) : this.say("fewest-bound", { count, least }));
    }
    return out;
  }

  walkedOver() {
    return this.say("walked", { kg: this.speaker.kg(this.site.person), places: this.stood.walked.places });
  }

  record() {
    const { known, walked, rest, remedy, rockSure, hasLevel } = this.stood;
    const stands = walked.standsEmpty;
    const { jump } = walked;
    return {
      stage: "stand",
      rock_mm: walked.rock,
      rock_sure_mm: rockSure,
      limit_mm: this.limit,
      rocks_at: walked.mark,
      highest_with_person_at_mm: walked.highest,
      lowest_with_person_at_mm: walked.lowest,
      person_kg: this.site.person / GRAVITY,
      tips_with_person_at_mm: walked.tips,
      stands_empty: stands,
      jump: jump && { post: jump.mark, fall_mm: jump.fall, at_mm: jump.at },
      posts: this.site.needs.map((need, k) => ({
        ...cutRecord(this.site, need, k),
        basis: known.bases[k],
        clearance_mm: known.clearance[k],
        gap_mm: stands ? rest.gap[k] : null,
        force_n: stands ? rest.press[k] : null,
        travel_mm: walked.travel[k],
      })),
      remedy: remedy && remedyRecord(remedy, hasLevel),
    };
  }
}

function remedyRecord(remedy, hasLevel) {
  const { before, after } = remedy;
  return {
    is_found: remedy.isFound,
    is_proved: remedy.isProved,
    least_posts: remedy.least,
    swaps: remedy.swaps,
    changes: remedy.changes.map((c) => ({ post: c.mark, by_mm: c.by })),
    rock_before_mm: before.rock,
    rock_after_mm: after.rock,
    widest_gap_before_mm: before.hang,
    widest_gap_after_mm: after.hang,
    most_force_before_n: before.press,
    most_force_after_n: after.press,
    off_level_before_mm: hasLevel ? before.off : null,
    off_level_after_mm: hasLevel ? after.off : null,
  };
}
