"""The site pack as one self-contained HTML file."""

from evenfoot.web.pack.page import pack_html

__all__ = ["pack_html"]
