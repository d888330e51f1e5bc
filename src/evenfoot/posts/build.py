"""All posts of a job, cut, with what was found about them."""

from __future__ import annotations

from evenfoot.frame import Frame
from evenfoot.job import Job, Log
from evenfoot.posts.cut import Bench, cut_one, hands_of, measured_gaps
from evenfoot.posts.findings import find
from evenfoot.posts.model import Posts
from evenfoot.site import Ground


def cut_posts(job: Job, ground: Ground, frame: Frame, log: Log) -> Posts:
    """Return every post with its cut and rough length [mm], its sigma and its height stack, and the findings.

    A post whose gap was measured (``post-gap`` in the log) is cut to that gap, whatever the ground says.
    Raises: JobFileError (``gap-not-positive``, ``accuracy-not-positive``).
    """
    bench = Bench(
        job=job,
        ground=ground,
        frame=frame,
        hands=hands_of(job),
        gaps=measured_gaps(log, accuracy=job.site.accuracy),
        timbers={m.mark: m for m in frame.members},
    )
    cuts = tuple(cut_one(place, bench) for place in frame.posts)
    return Posts(cuts=tuple(c.post for c in cuts), checks=find(bench, cuts))
