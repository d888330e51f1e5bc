// Posts before they stand: what to cut now, what to measure next, how sure lengths are.
import { NINETEEN_IN_TWENTY } from "./fit.js";
import { fixed } from "./rational.js";

const say = (speaker, code, facts) => speaker.say(`setting.posts.${code}`, facts);

/** The answer while a post is not cut yet. */
export function cutAnswer(site, speaker) {
  const { needs } = site;
  const measured = needs.filter((n) => n.isMeasured);
  const open = needs.filter((n) => !n.isMeasured).map((n) => speaker.mark(n.mark));
  const lines = [firstToCut(site, speaker)];
  lines.push(
    open.length ? say(speaker, "measure-next", { marks: speaker.listed(open) }) : say(speaker, "set-next"),
  );
  const among = measured.length ? measured : needs;
  const worst = among.reduce((a, b) => (fixed(b.sigma, 6) > fixed(a.sigma, 6) && b.sigma > a.sigma ? b : a));
  const sure = speaker.plus(NINETEEN_IN_TWENTY * worst.sigma);
  lines.push(say(speaker, "cut-sure", { sure, mark: speaker.mark(worst.mark) }));
  return {
    stage: "cut",
    lines,
    detail: needs.map((need, k) => cutLine(site, need, k, speaker)),
    record: { stage: "cut", posts: needs.map((need, k) => cutRecord(site, need, k)) },
    isFine: true,
  };
}

function firstToCut({ needs, readings }, speaker) {
  const measured = needs.filter((n) => n.isMeasured);
  const toCut = measured.filter((n) => !readings.lengths.has(n.mark));
  const counts = { count: measured.length, all: needs.length };
  if (toCut.length) {
    const cuts = speaker.listed(toCut.map((n) => `${speaker.mark(n.mark)} ${speaker.small(n.need)}`));
    return say(speaker, "cut-now", { cuts, ...counts });
  }
  if (measured.length) return say(speaker, "all-cut", counts);
  const lengths = needs.map((n) => n.need);
  const [low, high] = [speaker.small(Math.min(...lengths)), speaker.small(Math.max(...lengths))];
  return say(speaker, "rough", { all: needs.length, low, high });
}

/** One post: cut to, or rough and about. */
export function cutLine({ posts }, need, place, speaker) {
  const facts = {
    mark: speaker.mark(need.mark),
    length: speaker.small(need.need),
    sure: speaker.plus(NINETEEN_IN_TWENTY * need.sigma),
  };
  if (!need.isMeasured)
    return say(speaker, "post-rough", { ...facts, rough: speaker.small(roughOf(posts, need, place)) });
  const parts = [say(speaker, "post-final", facts)];
  if (Math.abs(need.takenOut) >= 0.05) {
    const way = need.takenOut > 0 ? "sagged" : "stood-proud";
    const by = speaker.fine(Math.abs(need.takenOut));
    parts.push(say(speaker, "taken-out", { by, way_code: `setting.posts.${way}` }));
  }
  return parts.join(speaker.gap);
}

/** The length to cut roughly: the long side of a sloping head, the allowance, up to whole steps [mm]. */
export function roughOf(posts, need, place) {
  const { rough_allowance_mm: allowance, rough_step_mm: step } = posts.hands;
  if (!(need.length > 0)) return 0;
  return Math.ceil((need.length + posts.cuts[place].head_rise_mm + allowance) / step - 1e-9) * step;
}

/** One post as plain data. */
export function cutRecord({ posts, readings }, need, place) {
  const cut = posts.cuts[place];
  return {
    post: need.mark,
    is_measured: need.isMeasured,
    length_mm: need.need,
    sure_mm: NINETEEN_IN_TWENTY * need.sigma,
    rough_mm: roughOf(posts, need, place),
    taken_out_mm: need.takenOut + 0,
    as_cut_mm: readings.lengths.get(need.mark) ?? null,
    foot_angle_deg: cut.foot_angle_deg,
    foot_gap_mm: cut.foot_gap_mm,
  };
}
