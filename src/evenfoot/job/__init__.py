"""What the carpenter wrote down: the job, the shop and the log, checked."""

from evenfoot.job import kinds
from evenfoot.job.model import FloorSpec, FrameSpec, Job, MemberSpec, SiteSpec
from evenfoot.job.shop import Log, LogLine, Shop, StockItem, Yard

__all__ = [
    "FloorSpec",
    "FrameSpec",
    "Job",
    "Log",
    "LogLine",
    "MemberSpec",
    "Shop",
    "SiteSpec",
    "StockItem",
    "Yard",
    "kinds",
]
