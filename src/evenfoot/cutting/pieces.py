"""Which pieces a job is cut into: every board, timber, block and post with the length that comes off the saw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from evenfoot.cutting.model import Piece
from evenfoot.frame import Frame, Member, Role
from evenfoot.job import FloorSpec, files, kinds
from evenfoot.layout import Layout
from evenfoot.posts import Posts


def pieces_of(floor: FloorSpec, layout: Layout, frame: Frame, posts: Posts) -> tuple[Piece, ...]:
    """Return all pieces, boards first, each with its planed section and length [mm].

    A ripped board tells its own width beside that of its stick, and a shaped one takes its longest extent. Posts are
    cut to their rough length; the finished length is marked on site.
    """
    return (*_boards(floor, layout), *_timbers(frame), *_posts(frame, posts))


def pieces_listed(rows: Sequence[files.WantedPiece]) -> tuple[Piece, ...]:
    """Return the pieces of a plain list, each as often as it is wanted."""
    return tuple(piece for row in rows for piece in [_listed(row)] * row.count)


def _listed(row: files.WantedPiece) -> Piece:
    return Piece(
        mark=row.mark,
        use=row.part,
        species=row.wood,
        look=row.look,
        strength_grade=row.grade,
        width=row.width,
        depth=row.depth,
        length=row.length,
        rip_width=row.rip if row.rip is not None and row.rip < max(row.width, row.depth) else None,
        place=row.place,
        is_clear=row.is_clear,
        supports=tuple((at, f"{number}") for number, at in enumerate(row.rests, start=1)),
    )


def with_spares(pieces: Sequence[Piece], spares: Sequence[tuple[str, int]]) -> tuple[Piece, ...]:
    """Return the pieces and the spares wanted of each part, marked ``spare1``, ``spare2`` ...

    A spare is as long as the longest piece of its part, whole in width, and of the best look among those.
    """
    made: list[Piece] = []
    for part, count in spares:
        alike = [piece for piece in pieces if piece.use == part]
        if not alike:
            continue
        longest = max(alike, key=lambda piece: (piece.length, -piece.look.rank))
        same = [p for p in alike if (p.species, p.width, p.depth) == (longest.species, longest.width, longest.depth)]
        best = min((piece.look for piece in same), key=lambda look: look.rank)
        for _ in range(count):
            made.append(
                replace(
                    longest,
                    mark=f"spare{len(made) + 1}",
                    look=best,
                    rip_width=None,
                    place="",
                    is_clear=any(p.is_clear for p in same),
                    is_spare=True,
                    supports=(),
                )
            )
    return (*pieces, *made)


def _boards(floor: FloorSpec, layout: Layout) -> Iterator[Piece]:
    board = floor.board
    for piece in layout.pieces:
        yield Piece(
            mark=piece.mark,
            use=kinds.Part.BOARD.value,
            species=board.species,
            look=board.look,
            strength_grade=board.strength_grade,
            width=board.width,
            depth=board.thickness,
            length=piece.length,
            rip_width=piece.width if piece.is_ripped and piece.width < board.width else None,
            place=f"b{piece.row}",
            is_clear=True,
        )


def _timbers(frame: Frame) -> Iterator[Piece]:
    supports: dict[str, list[tuple[float, str]]] = {}
    for joint in frame.joints:
        supports.setdefault(joint.upper, []).append((joint.at_upper, joint.lower))
    for member in frame.members:
        if member.role is Role.POST:
            continue  # posts come with their own lengths
        yield Piece(
            mark=member.mark,
            use=member.role.value,
            species=member.species,
            look=member.look,
            strength_grade=member.strength_grade,
            width=member.width,
            depth=member.depth,
            length=member.length,
            place=_line_of(member),
            is_clear=member.is_seen,
            supports=tuple(sorted(set(supports.get(member.mark, ())))),
        )


def _line_of(member: Member) -> str:
    return f"{member.axis.value}{member.line}"


def _posts(frame: Frame, posts: Posts) -> Iterator[Piece]:
    places = {place.mark: place for place in frame.posts}
    for cut in posts.cuts:
        place = places[cut.mark]
        yield Piece(
            mark=cut.mark,
            use=Role.POST.value,
            species=cut.species,
            look=place.look,
            strength_grade=place.strength_grade,
            width=cut.width,
            depth=cut.depth,
            length=cut.rough_length,
        )
