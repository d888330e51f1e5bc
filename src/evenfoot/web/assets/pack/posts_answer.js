// The station of posts: what to cut, which feet carry, what rocks, what to shave or pack; as evenfoot set posts.
import { NINETEEN_IN_TWENTY } from "./fit.js";
import { clearOf, Footing, isEnough, liesAbove, needsOf, swappedOf } from "./footing.js";
import { makeTrial } from "./goal.js";
import { findRemedy } from "./remedy.js";
import { basesOf, frameOf, mayStandIn, postReadings } from "./posts_read.js";
import { cutAnswer } from "./posts_cut.js";
import { standAnswer, walkedAnswer } from "./posts_stand.js";
import { GRAVITY, rockSure, walkOver } from "./walk.js";

/** The floor of a pack with the readings of a log. */
export function openSite(posts, lines) {
  const readings = postReadings(lines, posts);
  const bases = basesOf(posts, readings);
  const bare = new Footing(frameOf(posts, bases, { hasBoards: false }));
  const whole = new Footing(frameOf(posts, bases, { hasBoards: true }));
  const needs = needsOf(bare, bases, readings);
  const now = readings.hasBoards ? whole : bare;
  const feeler = posts.figures.feeler_mm / NINETEEN_IN_TWENTY;
  const known = clearOf(now, needs, { ...readings, feeler });
  return { posts, readings, bases, bare, whole, now, needs, known, person: posts.figures.walker_kg * GRAVITY };
}

/**
 * The answer {stage, lines, detail, record, isFine}; ``prefer`` is shave or pack. ``tell`` is given how the floor
 * stands as soon as that is known, before what would help is sought.
 */
export function answerPosts(posts, lines, speaker, { prefer = "shave", tell = null } = {}) {
  const site = openSite(posts, lines);
  if (!isEnough(site.known)) return cutAnswer(site, speaker);
  const walked = walkOver(site.whole, site.known.clearance, site.person);
  tell?.(walkedAnswer(site, walked, speaker));
  return standAnswer(site, standOf(site, walked, prefer), speaker);
}

/** How the floor stands on its feet, how it was walked, and what would help. */
function standOf(site, walked, prefer) {
  const { whole, known, posts, person } = site;
  const { figures } = posts;
  const spread = Math.max(...known.clearance) - Math.min(...known.clearance);
  const step = figures.post_step_mm;
  const goal = {
    rock: figures.rock_limit_mm,
    step,
    most: step * (Math.ceil((spread + 2 * figures.level_within_mm) / step) + 1),
    share: figures.load_share,
    level: null,
    prefer,
  };
  const { remedy, hasLevel } = remedyOf(site, goal);
  const sure = rockSure(whole, known, walked, { person, normals: posts.normals });
  return { known, walked, rest: walked.empty, remedy, hasLevel, rockSure: sure };
}

/** The smallest remedy, one that leaves the floor level where there is one, and whether levels are known. */
function remedyOf(site, goal) {
  const { whole, now, known, readings, posts, person } = site;
  const isSeen = known.bases.includes("seen");
  const lies = isSeen ? liesAbove(now, known, readings.levelsOnFeet) : known.clearance.map(() => 0);
  const maySwap = mayStandIn(posts, swappedOf(known));
  let remedy = null;
  for (const level of lies === null ? [null] : [posts.figures.level_within_mm, null]) {
    const trial = makeTrial(whole, { ...goal, level }, { person, lies });
    if (trial === null) return { remedy: null, hasLevel: false };
    remedy = findRemedy(trial, known.clearance, maySwap);
    if (remedy.isFound) break;
  }
  return { remedy, hasLevel: lies !== null };
}
