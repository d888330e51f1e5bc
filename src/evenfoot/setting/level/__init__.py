"""How the frame really lies, and which foot to turn how often."""

__all__: list[str] = []
