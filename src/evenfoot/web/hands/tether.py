"""What ties a hand to the page that it works for: it goes when the page goes, even when that was killed."""

from __future__ import annotations

import os
import signal
import threading
from multiprocessing import parent_process


def tie() -> None:
    """Let this process end when the one that began it has ended; Ctrl-C is told to that one alone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_follow, daemon=True).start()


def _follow() -> None:
    page = parent_process()
    if page is not None:
        page.join()
        os._exit(0)
