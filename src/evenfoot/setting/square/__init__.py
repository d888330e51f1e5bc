"""What shape the frame really has, and which corner to push which way."""

__all__: list[str] = []
