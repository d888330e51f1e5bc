"""How facts are said, in English and in Japanese as carpenters say it."""

from evenfoot.words.speaker import Language, Speaker, catalogue

__all__ = ["Language", "Speaker", "catalogue"]
