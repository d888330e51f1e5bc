"""The page: the whole job in a browser. Parses, calls one office function, shows the answer."""

from evenfoot.web.app import make_app
from evenfoot.web.pack import pack_html
from evenfoot.web.serving import serve
from evenfoot.web.settings import Settings, usual_store

__all__ = ["Settings", "make_app", "pack_html", "serve", "usual_store"]
