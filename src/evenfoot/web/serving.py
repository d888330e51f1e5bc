"""How the page is opened: one process that serves, with its hands beside it."""

from __future__ import annotations

from evenfoot.web.app import make_app
from evenfoot.web.settings import Settings


def serve(settings: Settings) -> None:
    """Serve until stopped by Ctrl-C or a signal."""
    import uvicorn

    uvicorn.run(
        make_app(settings),
        host=settings.host,
        port=settings.port,
        log_level="warning",
        proxy_headers=False,
        server_header=False,
        timeout_graceful_shutdown=3,
        ssl_certfile=settings.certificate,
        ssl_keyfile=settings.key,
    )
