"""The page: the desk and the site in a browser. Parses a request, calls one office function, shows the answer."""

__all__: list[str] = []
