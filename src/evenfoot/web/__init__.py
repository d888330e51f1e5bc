"""The page: the whole job in a browser. Parses, calls one office function, shows the answer."""

from evenfoot.web.app import make_app
from evenfoot.web.serving import serve
from evenfoot.web.settings import Settings, usual_store

__all__ = ["Settings", "make_app", "serve", "usual_store"]
