"""How facts are said, in English and in Japanese as carpenters say it."""

from evenfoot.words.speaker import ON_PAGE, STANDS_FREE, TYPED, Language, Speaker, catalogue, said_instead

__all__ = ["ON_PAGE", "STANDS_FREE", "TYPED", "Language", "Speaker", "catalogue", "said_instead"]
