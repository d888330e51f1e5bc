"""How wide the next gaps must be, where each board is marked, and which board to push straight."""

__all__: list[str] = []
