"""What is known to its holder only: passphrases, kept as argon2id hashes, and tokens, kept as digests."""

from __future__ import annotations

import secrets
import unicodedata
from functools import cache
from hashlib import sha256
from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from evenfoot.errors import Fault, OutOfRangeError

SHORTEST = 10
"""The fewest signs of a passphrase. Source: NIST SP 800-63B-4 (2025), 3.1.1.2: at least 8 beside another factor, 15
alone; here a place on the firm's own network is asked for too, and tries are counted."""
LONGEST = 200
"""The most signs of a passphrase, so that hashing one stays a small work."""
TOKEN_BYTES = 32
"""How much chance a token holds [bytes]: 256 bits, so that it can be kept as a plain digest and looked up by that."""

_AT_ONCE = BoundedSemaphore(2)
"""Each hash takes 64 MiB while it is worked out; no more than these at a time."""


@cache
def _hasher() -> PasswordHasher:
    """Return argon2id at the second recommended choice of RFC 9106, 4: 64 MiB, 3 passes, 4 lanes."""
    return PasswordHasher(time_cost=3, memory_cost=65_536, parallelism=4)


def hash_of(passphrase: str) -> str:
    """Return what a passphrase is kept as.

    Raises: OutOfRangeError ``passphrase-short``, ``passphrase-long``.
    """
    plain = _plain(passphrase)
    if len(plain) < SHORTEST:
        raise OutOfRangeError(Fault(where="passphrase", code="passphrase-short", allowed=str(SHORTEST)))
    if len(plain) > LONGEST:
        raise OutOfRangeError(Fault(where="passphrase", code="passphrase-long", allowed=str(LONGEST)))
    with _AT_ONCE:
        return _hasher().hash(plain)


@cache
def nobodys_hash() -> str:
    """Return a hash that no passphrase fits, so that a wrong name takes as long as a wrong passphrase."""
    return hash_of(secrets.token_urlsafe(TOKEN_BYTES))


def is_right(passphrase: str, kept: str) -> bool:
    """Return whether a passphrase is the one that was kept; the comparison takes no hint from where they differ."""
    plain = _plain(passphrase)
    if len(plain) > LONGEST:
        return False
    try:
        with _AT_ONCE:
            return _hasher().verify(kept, plain)
    except (VerificationError, InvalidHashError):
        return False


def new_token() -> str:
    """Return a token that nobody can guess."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def digest_of(token: str) -> str:
    """Return what a token is kept as and looked up by.

    Whoever measures how long a look-up takes learns of digests, which lead to no token.
    """
    return sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def _plain(passphrase: str) -> str:
    """Return a passphrase as it is hashed: typed in full or half width, composed or not, it is the same."""
    return unicodedata.normalize("NFKC", passphrase).replace("\0", "").encode("utf-8", "replace").decode("utf-8")
