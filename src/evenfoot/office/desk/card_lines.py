"""What a card says of a thing line by line: place and measures, wood, the stick it is sawn from, the work on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from evenfoot.office.desk.marks import Thing
from evenfoot.plan import Plan
from evenfoot.sheets import Figures, post_ends

SPREAD_DIGITS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """One line: a code, its name in words, and what it says."""

    code: str
    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What the lines are written from."""

    plan: Plan
    mark: str
    figures: Figures

    def tell(self, code: str, **facts: str | float) -> str:
        """Return words of the card."""
        return self.figures.speaker.say(f"desk-card.{code}", **facts)

    def line(self, code: str, value: str) -> CardLine:
        """Return one line with its name."""
        return CardLine(code=code, name=self.tell(code), value=value)

    def joined(self, parts: Iterator[str] | tuple[str, ...]) -> str:
        """Return several short values in a row."""
        return self.figures.speaker.say("sheet.semicolon").join(parts)

    def wood(self, species: str, look: str, grade: str) -> CardLine:
        """Return which wood it is of, in which grades."""
        figures = self.figures
        said = [figures.said("species", species), figures.speaker.say(f"sheet-look.{look}")]
        if grade:
            said.append(figures.said("sheet-grade", grade))
        return self.line("wood", figures.speaker.say("sheet.comma").join(said))


def lines_of(plan: Plan, thing: Thing, mark: str, figures: Figures) -> tuple[CardLine, ...]:
    """Return the lines of a card in reading order: what it is first, what is done with it last."""
    desk = Desk(plan=plan, mark=mark, figures=figures)
    parts: tuple[Callable[[Desk], Iterator[CardLine]], ...]
    if thing is Thing.JOINT:
        parts = (_joint, _decay)
    elif thing is Thing.LINE:
        parts = (_grid_line,)
    elif thing is Thing.POST:
        parts = (_post, _footing, _loads, _stick, _coat, _decay, _steps)
    elif thing is Thing.BOARD:
        parts = (_board, _stick, _mass, _coat, _decay, _steps)
    else:
        parts = (_timber, _stick, _mass, _coat, _decay, _steps)
    return tuple(line for part in parts for line in part(desk))


def _timber(desk: Desk) -> Iterator[CardLine]:
    figures, member = desk.figures, desk.plan.frame.member(desk.mark)
    yield desk.wood(member.species, member.look.value, member.strength_grade)
    yield desk.line("section", figures.section(member.width, member.depth))
    yield desk.line("finished-length", figures.cut(member.length))
    along = "left" if member.axis.value == "x" else "house"
    yield desk.line("named-end", figures.speaker.say(f"sheet-end.{along}"))
    under = tuple(dict.fromkeys(p.mark for p in desk.plan.frame.posts if p.under == desk.mark))
    if under:
        yield desk.line("posts-under", figures.marks(under))
    spliced = (
        desk.tell("meets-over", other=figures.mark(other), over=figures.mark(s.over))
        for s in desk.plan.frame.splices
        for other in (s.first, s.second)
        if desk.mark in (s.first, s.second) and other != desk.mark
    )
    said = desk.joined(spliced)
    if said:
        yield desk.line("splice", said)


def _post(desk: Desk) -> Iterator[CardLine]:
    figures, speaker = desk.figures, desk.figures.speaker
    cut = next(c for c in desk.plan.posts.cuts if c.mark == desk.mark)
    place = next(p for p in desk.plan.frame.posts if p.mark == desk.mark)
    yield desk.wood(cut.species, place.look.value, place.strength_grade)
    yield desk.line("section", figures.section(cut.width, cut.depth))
    if not cut.is_cut:
        yield desk.line("cut-length", speaker.say("sheet.no-room"))
        return
    spread = desk.tell("spread", length=figures.cut(cut.length), spread=figures.spread(cut.sigma))
    yield desk.line("cut-length", spread)
    yield desk.line("length-from", speaker.say(f"sheet-basis.{cut.basis.value}"))
    yield desk.line("rough-length", figures.length(cut.rough_length))
    head, foot = post_ends(speaker, cut)
    yield desk.line("head", head)
    yield desk.line("foot", desk.tell("foot-said", side=foot, gap=figures.cut(cut.foot_gap)) if cut.foot_gap else foot)
    yield desk.line("stands-at", desk.tell("at", x=figures.length(cut.x), y=figures.length(cut.y)))
    yield desk.line("bears", figures.mark(place.under))
    levels = desk.tell("post-levels", head=figures.level(cut.underside), foot=figures.level(cut.footing_top))
    yield desk.line("levels", levels)


def _footing(desk: Desk) -> Iterator[CardLine]:
    figures, footing = desk.figures, desk.plan.job.frame.footing
    cut = next(c for c in desk.plan.posts.cuts if c.mark == desk.mark)
    said = desk.tell(
        "footing-said",
        kind=figures.speaker.say(f"footing.{footing.kind.value}"),
        size=figures.section(footing.size, footing.size),
        height=figures.length(footing.height),
        ground=figures.level(cut.ground),
    )
    yield desk.line("footing", said)


def _loads(desk: Desk) -> Iterator[CardLine]:
    speaker = desk.figures.speaker
    loads = [load for load in desk.plan.strength.post_loads if load.mark == desk.mark]
    if not loads:
        return
    most = max(loads, key=lambda load: load.force)
    own = next((load.force for load in loads if load.case == "dead"), None)
    said = [desk.tell("load-most", load_n=most.force, case=desk.figures.said("case", most.case))]
    if own is not None and most.case != "dead":
        said.insert(0, desk.tell("load-own", load_n=own))
    yield desk.line("load", speaker.say("sheet.semicolon").join(said))


def _board(desk: Desk) -> Iterator[CardLine]:
    figures, board = desk.figures, desk.plan.job.floor.board
    piece = next(p for p in desk.plan.layout.pieces if p.mark == desk.mark)
    row = next(r for r in desk.plan.layout.rows if r.number == piece.row)
    yield desk.wood(board.species, board.look.value, board.strength_grade)
    yield desk.line("section", figures.section(piece.width, board.thickness))
    yield desk.line("finished-length", figures.cut(piece.length))
    state = [desk.tell(code) for code, is_so in (("ripped", piece.is_ripped), ("shaped", piece.is_shaped)) if is_so]
    if state:
        yield desk.line("worked", figures.speaker.say("sheet.comma").join(state))
    edges = desk.tell("edges", row=row.number, near=figures.cut(row.near), far=figures.cut(row.far))
    yield desk.line("row", edges)
    yield desk.line("gap", figures.cut(desk.plan.layout.gap))


def _joint(desk: Desk) -> Iterator[CardLine]:
    figures, speaker = desk.figures, desk.figures.speaker
    joint = next(j for j in desk.plan.frame.joints if j.mark == desk.mark)
    yield desk.line("kind", speaker.say(f"sheet-joint.{joint.kind.value}"))
    upper, lower = figures.mark(joint.upper), figures.mark(joint.lower)
    yield desk.line("bearing", desk.tell("upper-on-lower", upper=upper, lower=lower))
    yield desk.line("seat", figures.cut(joint.seat))
    for code, depth in (("cut-upper", joint.cut_upper), ("cut-lower", joint.cut_lower)):
        if depth:
            yield desk.line(code, figures.cut(depth))
    yield desk.line("comes-in", desk.tell(f"entry-{joint.entry.value}"))
    yield desk.line("stands-at", desk.tell("at", x=figures.length(joint.x), y=figures.length(joint.y)))


def _grid_line(desk: Desk) -> Iterator[CardLine]:
    figures = desk.figures
    line = next(g for g in desk.plan.frame.grid if g.label == desk.mark)
    yield desk.line(f"line-{line.axis.value}", figures.length(line.position))
    on = tuple(m.mark for m in desk.plan.frame.members if m.line == desk.mark)
    if on:
        yield desk.line("on-line", figures.marks(on))
    posts = tuple(p.mark for p in desk.plan.frame.posts if abs(_across(p.x, p.y, line.axis) - line.position) < 1.0)
    if posts:
        yield desk.line("posts-on-line", figures.marks(posts))


def _across(x: float, y: float, axis: str) -> float:
    return x if axis == "x" else y


def _stick(desk: Desk) -> Iterator[CardLine]:
    """Yield which stick it is sawn from and where, as the sawing sheet numbers them."""
    figures, cutting = desk.figures, desk.plan.cutting
    for section in cutting.sections:
        for number, stick in enumerate(section.sticks, start=1):
            for cut in stick.cuts:
                if desk.mark not in cut.marks:
                    continue
                sawn, planed = (section.rough_width, section.rough_depth), (section.width, section.depth)
                if sawn != planed:
                    yield desk.line("planed-from", figures.section(*sawn))
                said = desk.tell(
                    "stick-said",
                    number=number,
                    count=len(section.sticks),
                    source=figures.speaker.say(f"sheet-source.{stick.source}"),
                    length=figures.length(stick.length),
                    begin=figures.cut(cut.begin),
                    finish=figures.cut(cut.finish),
                )
                yield desk.line("stick", said)
    for done in cutting.done:
        if done.mark == desk.mark:
            yield desk.line("stick", desk.tell("is-sawn", stick=done.stick, length=figures.cut(done.length)))
    if any(piece.mark == desk.mark for piece in cutting.left_out):
        yield desk.line("stick", desk.tell("no-stick"))


def _mass(desk: Desk) -> Iterator[CardLine]:
    for mass in desk.plan.timber.masses:
        if mass.mark == desk.mark:
            yield desk.line("mass", desk.tell("mass-said", kilograms=round(mass.mass, 1), people=mass.people))


def _coat(desk: Desk) -> Iterator[CardLine]:
    """Yield how often its faces are coated and when."""
    counts: dict[tuple[str, str], int] = {}
    for coat in desk.plan.estimate.coats:
        if coat.face != "seen" or _is_seen(desk):
            counts[coat.face, coat.when] = counts.get((coat.face, coat.when), 0) + 1
    say = desk.figures.speaker.say
    said = (
        desk.tell("coat-said", face=say(f"sheet-coat.{face}"), count=count, when=say(f"sheet-when.{when}"))
        for (face, when), count in counts.items()
    )
    yield desk.line("coat", desk.joined(said) or desk.tell("no-coat"))


def _is_seen(desk: Desk) -> bool:
    """Return whether any long face of it stays in sight: of boards the top, of the rest as the job says."""
    if any(piece.mark == desk.mark for piece in desk.plan.layout.pieces):
        return True
    member = next((m for m in desk.plan.frame.members if m.mark == desk.mark), None)
    return desk.plan.job.frame.post.is_seen if member is None else member.is_seen


def _decay(desk: Desk) -> Iterator[CardLine]:
    """Yield the details of it that rot first, the worst first, as a share of what its wood withstands."""
    joints = {j.mark for j in desk.plan.frame.joints if desk.mark in (j.upper, j.lower)}
    own = [e for e in desk.plan.timber.exposures if desk.mark in e.marks or joints & set(e.marks)]
    figures = desk.figures
    said = (
        desk.tell(
            "decay-said" if e.is_confirmed else "decay-doubted",
            detail=figures.said("detail", e.detail),
            ratio=figures.number(e.ratio, SPREAD_DIGITS),
        )
        for e in sorted(own, key=lambda e: -e.ratio)
    )
    text = desk.joined(said)
    if text:
        yield desk.line("decay", text)


def _steps(desk: Desk) -> Iterator[CardLine]:
    """Yield the steps of the work that name it."""
    say = desk.figures.speaker.say
    said = (
        desk.tell("step-said", number=step.number, step=say(f"step.{step.step}"))
        for step in desk.plan.programme.steps
        if desk.mark in step.marks
    )
    text = desk.joined(said)
    if text:
        yield desk.line("step", text)
