"""How long every post is cut, and whether everything fits between sill and ground."""

from evenfoot.posts.model import Basis, Layer, PostCut, Posts

__all__ = ["Basis", "Layer", "PostCut", "Posts"]
