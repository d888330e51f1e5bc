// What a log says about posts, and what each post then needs; as evenfoot.office.setting and evenfoot.posts.
import { NINETEEN_IN_TWENTY } from "./fit.js";
import { standing } from "./log.js";

/** Readings of a log by the mark of the post [mm]; order counts: see evenfoot.office.setting.posts_readings. */
export function postReadings(lines, posts) {
  const out = {
    gaps: new Map(),
    accuracy: new Map(),
    lengths: new Map(),
    seen: new Map(),
    jacks: new Map(),
    levels: new Map(),
    levelsOnFeet: new Map(),
    hasBoards: false,
  };
  let [stood, wereGapsRead] = [[], false];
  for (const line of standing(lines)) {
    const { what, mark, value_mm: value } = line;
    if (what === "jack") {
      stood = wereGapsRead ? [mark] : [...new Set([...stood, mark])];
      wereGapsRead = false;
    } else if (what === "post-gap") {
      readGap(out, line, stood);
      wereGapsRead = true;
    } else if (what === "post-length") {
      out.lengths.set(mark, value);
      out.seen.clear();
      out.levelsOnFeet.clear();
    } else if (what === "foot-gap") out.seen.set(mark, value);
    else if (what === "frame-level") {
      (out.seen.size || out.lengths.size ? out.levelsOnFeet : out.levels).set(mark, value);
    } else if (what === "board-edge") out.hasBoards = true;
  }
  out.levels = abovePlace(out.levels, posts);
  out.levelsOnFeet = abovePlace(out.levelsOnFeet, posts);
  return out;
}

function readGap(out, { mark, value_mm: value, accuracy_mm: accuracy }, stood) {
  out.gaps.set(mark, value);
  out.jacks.delete(mark);
  if (stood.length) out.jacks.set(mark, stood);
  if (accuracy !== undefined && accuracy !== null) out.accuracy.set(mark, accuracy / NINETEEN_IN_TWENTY);
  out.seen.clear();
  out.levelsOnFeet.clear();
}

/** How far above its planned top the frame lies at each post whose level was read. */
function abovePlace(levels, posts) {
  const out = new Map();
  for (const post of posts.cuts) if (levels.has(post.mark)) out.set(post.mark, levels.get(post.mark) - post.top_mm);
  return out;
}

/** What each post of the job needs: its length by the ground or, where one was read, by the gap [mm]. */
export function basesOf(posts, readings) {
  const { figures, hands } = posts;
  return posts.cuts.map((cut) => {
    const { mark } = cut;
    if (!readings.gaps.has(mark)) {
      const sigma = cut.surface_sigma_mm;
      return { mark, length: cut.surface_length_mm, sigma, sigmaGap: sigma, isMeasured: false };
    }
    const own = readings.accuracy.get(mark);
    // The room of posts counts 1.96 standard deviations to 19 in 20 times, the room of setting the exact figure.
    const read = own === undefined ? hands.gap_sigma_mm : (own * NINETEEN_IN_TWENTY) / 1.96;
    return {
      mark,
      length: readings.gaps.get(mark),
      sigma: Math.hypot(read, hands.cut_sigma_mm),
      sigmaGap: own ?? figures.gap_reading_mm / NINETEEN_IN_TWENTY,
      isMeasured: true,
    };
  });
}

/** The frame over posts of these lengths [mm]: longer posts give more and weigh more where they hang. */
export function frameOf(posts, bases, { hasBoards }) {
  const { frame, cuts } = posts;
  const base = hasBoards ? frame.own_with_boards_n : frame.own_bare_n;
  const longer = cuts.map((cut, k) => bases[k].length - cut.length_mm);
  return {
    marks: frame.marks,
    x: frame.x_mm,
    y: frame.y_mm,
    give: frame.give_mm_per_n,
    shapes: frame.shapes,
    seat: frame.seat_mm_per_n.map((seat, k) => seat + longer[k] * frame.seat_per_mm[k]),
    own: base.map((own, k) => own + longer[k] * frame.own_n_per_mm[k]),
    walkedAt: frame.walked_at_mm,
    walkedLoad: frame.walked_load,
    pairs: frame.pairs,
  };
}

/** Swaps that can be done: same section, wood and lean of the head; NaN elsewhere. */
export function mayStandIn(posts, swapped) {
  if (swapped === null) return null;
  return swapped.map((row, i) => row.map((value, k) => (posts.cuts[i].kind === posts.cuts[k].kind ? value : NaN)));
}
