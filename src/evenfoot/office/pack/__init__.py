"""The site pack: all that a phone needs on the slab without a signal, as plain data, and what it brings back."""

from evenfoot.office.files import write_file
from evenfoot.office.pack.joining import (
    Disagreement,
    Joined,
    join_file,
    join_logs,
    joined_record,
    joined_words,
    speaker_of,
)
from evenfoot.office.pack.whole import pack_record

__all__ = [
    "Disagreement",
    "Joined",
    "join_file",
    "join_logs",
    "joined_record",
    "joined_words",
    "pack_record",
    "speaker_of",
    "write_file",
]
