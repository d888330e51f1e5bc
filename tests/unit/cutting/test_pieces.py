"""Which pieces a job is cut into: everything that the other rooms made, once, with the length that comes off the saw."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from evenfoot.cutting import pieces_of
from evenfoot.frame import Role, build_frame
from evenfoot.job import kinds, read_log, read_shop, yard_for
from evenfoot.job.files import parse_job
from evenfoot.layout import lay_boards
from evenfoot.plan import make_plan

TEXT = """
unit = "mm"
standard = "japan"
name = "pieces"

[site]
levels = [[0, 0, -510], [3600, 0, -520], [3600, 1900, -560], [0, 1900, -545]]

[floor]
width = 3600
depth = 1900

[frame]
style = "flush"
"""


@pytest.fixture(scope="module")
def made():
    job = parse_job(TEXT)
    return make_plan(job, read_shop(None, standard=job.standard), read_log(None))


def test_boards_timbers_and_posts_are_all_there_once(made):
    pieces = pieces_of(made.job.floor, made.layout, made.frame, made.posts)
    counts = Counter(p.mark for p in pieces)
    assert set(counts.values()) == {1}
    wanted = [
        *(p.mark for p in made.layout.pieces),
        *(m.mark for m in made.frame.members if m.role.value != "post"),
        *(c.mark for c in made.posts.cuts),
    ]
    assert sorted(counts) == sorted(wanted)


def test_lengths_and_sections_are_those_of_the_parts(made):
    pieces = {p.mark: p for p in pieces_of(made.job.floor, made.layout, made.frame, made.posts)}
    for member in made.frame.members:
        piece = pieces[member.mark]
        assert (piece.length, piece.width, piece.depth) == (member.length, member.width, member.depth)
        assert (piece.use, piece.look, piece.strength_grade) == (member.role.value, member.look, member.strength_grade)
    for cut in made.posts.cuts:
        piece = pieces[cut.mark]
        assert (piece.use, piece.length, piece.species) == ("post", cut.rough_length, cut.species)
        assert piece.look is made.job.frame.post.look


def test_a_ripped_board_takes_a_board_of_full_width(made):
    job = parse_job(TEXT.replace("depth = 1900", "depth = 1940") + '\n[floor.board]\nclosing = "rip-last"\n')
    layout = lay_boards(job, yard_for(job, read_shop(None)))
    assert any(p.is_ripped for p in layout.pieces)
    frame = build_frame(job, layout, yard_for(job, read_shop(None)))
    boards = [
        p for p in pieces_of(job.floor, layout, frame, made.posts.__class__(cuts=(), checks=())) if p.use == "board"
    ]
    assert {(p.width, p.depth) for p in boards} == {(job.floor.board.width, job.floor.board.thickness)}
    assert len(boards) == len(layout.pieces)
    assert all(p.look is job.floor.board.look for p in boards)
    assert isinstance(boards[0].look, kinds.Look)


def test_a_post_among_the_timbers_is_not_cut_twice(made):
    frame = replace(made.frame, members=(*made.frame.members, replace(made.frame.members[0], role=Role.POST)))
    twice = pieces_of(made.job.floor, made.layout, frame, made.posts)
    assert twice == pieces_of(made.job.floor, made.layout, made.frame, made.posts)
