"""What the carpenter wrote down: the job, the shop and the log, checked."""

from evenfoot.job import kinds
from evenfoot.job.file.writing import job_template
from evenfoot.job.logfile import read_log
from evenfoot.job.model import FloorSpec, FrameSpec, Job, MemberSpec, SiteSpec
from evenfoot.job.parse import parse_job, read_job
from evenfoot.job.shop import Log, LogLine, Shop, StockItem, Yard
from evenfoot.job.shopfile import read_shop, yard_for

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
    "job_template",
    "kinds",
    "parse_job",
    "read_job",
    "read_log",
    "read_shop",
    "yard_for",
]
