"""How the page is opened: one process that serves, with its hands beside it."""

from __future__ import annotations

import signal
import socket
import sys
import threading
from collections.abc import Callable
from types import FrameType

from evenfoot.errors import Fault, StoreError
from evenfoot.web.app import make_app
from evenfoot.web.settings import Settings


def serve(settings: Settings, tell: Callable[[str], None]) -> None:
    """Serve until stopped by Ctrl-C or a signal; ``tell`` gets the address once it can be opened.

    Raises: StoreError ``address-taken`` when nothing can be served there, ``store-unreachable``.
    """
    import uvicorn

    app = make_app(settings)
    door = _open_door(settings)
    host, port = settings.host, door.getsockname()[1]
    # 0.0.0.0 is every address and none: the machine itself goes by its own name.
    name = "localhost" if settings.is_loopback_only or host in {"0.0.0.0", "::"} else host  # noqa: S104 - not bound here
    tell(f"{'https' if settings.is_https else 'http'}://{f'[{name}]' if ':' in name else name}:{port}/")
    config = uvicorn.Config(
        app,
        log_level="warning",
        proxy_headers=False,
        server_header=False,
        timeout_graceful_shutdown=3,
        ssl_certfile=settings.certificate,
        ssl_keyfile=settings.key,
    )
    server = uvicorn.Server(config)
    end = server.handle_exit

    def let_go(sign: int, frame: FrameType | None) -> None:
        """Close the lines that would otherwise stand open for ever, then end as usual."""
        app.state.news.close()
        if (hands := getattr(app.state, "hands", None)) is not None:  # they come once the app is open for work
            hands.let_go()
        end(sign, frame)

    server.handle_exit = let_go  # type: ignore[method-assign, assignment]
    if threading.current_thread() is threading.main_thread():
        # The server raises the signal once more when it has ended: end as after the last line, so that nothing is left.
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    server.run(sockets=[door])


def _open_door(settings: Settings) -> socket.socket:
    """Return a listening socket, so that the port is ours before anybody is told of it."""
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    door = socket.socket(family, socket.SOCK_STREAM)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        door.bind((settings.host, settings.port))
        door.listen()
    except OSError as error:
        door.close()
        place = f"{settings.host}:{settings.port}"
        raise StoreError(Fault(where=place, code="address-taken", found=error.strerror or "")) from error
    door.set_inheritable(False)
    return door
