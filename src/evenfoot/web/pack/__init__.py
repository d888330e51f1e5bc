"""The site pack as one self-contained HTML file."""

from evenfoot.web.pack.page import header_policy, pack_html

__all__ = ["header_policy", "pack_html"]
