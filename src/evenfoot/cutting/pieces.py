"""Which pieces a job is cut into: every board, timber, block and post with the length that comes off the saw."""

from __future__ import annotations

from collections.abc import Iterator

from evenfoot.cutting.model import Piece
from evenfoot.frame import Frame, Role
from evenfoot.job import FloorSpec
from evenfoot.layout import Layout
from evenfoot.posts import Posts


def pieces_of(floor: FloorSpec, layout: Layout, frame: Frame, posts: Posts) -> tuple[Piece, ...]:
    """Return all pieces, boards first, each with its finished section and length [mm].

    A ripped board takes the full width of its stick, and a shaped one its longest extent. Posts are cut to
    their rough length; the finished length is marked on site.
    """
    return (*_boards(floor, layout), *_timbers(frame), *_posts(frame, posts))


def _boards(floor: FloorSpec, layout: Layout) -> Iterator[Piece]:
    board = floor.board
    for piece in layout.pieces:
        yield Piece(
            mark=piece.mark,
            use="board",
            species=board.species,
            look=board.look,
            strength_grade=board.strength_grade,
            width=board.width,
            depth=board.thickness,
            length=piece.length,
        )


def _timbers(frame: Frame) -> Iterator[Piece]:
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
        )


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
