"""Files are written whole or not at all."""

from __future__ import annotations

import pytest

from evenfoot.errors import StoreError
from evenfoot.office.files import write_all


def test_all_files_arrive(tmp_path):
    paths = write_all(tmp_path / "new", {"a.txt": b"a", "sub/b.txt": b"b"})
    assert [p.read_bytes() for p in paths] == [b"a", b"b"]
    assert sorted(p.name for p in (tmp_path / "new").rglob("*") if p.is_file()) == ["a.txt", "b.txt"]


def test_a_fault_leaves_what_stood_there(tmp_path):
    (tmp_path / "a.txt").write_bytes(b"old")
    (tmp_path / "sub").write_bytes(b"a file where a folder is wanted")
    with pytest.raises(StoreError) as error:
        write_all(tmp_path, {"a.txt": b"new", "sub/b.txt": b"b"})
    assert (error.value.fault.code, error.value.fault.where) == ("cannot-write", str(tmp_path))
    assert (tmp_path / "a.txt").read_bytes() == b"old"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.txt", "sub"]
