"""What the carpenter wrote down: the job, the shop and the log, checked."""

from evenfoot.job import files, kinds
from evenfoot.job.files import job_template, parse_job, read_job, read_log, read_shop
from evenfoot.job.model import FloorSpec, FrameSpec, Job, MemberSpec, SiteSpec
from evenfoot.job.shop import Log, LogLine, Shop, StockItem, Yard
from evenfoot.job.shopfile import yard_for

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
    "files",
    "job_template",
    "kinds",
    "parse_job",
    "read_job",
    "read_log",
    "read_shop",
    "yard_for",
]
