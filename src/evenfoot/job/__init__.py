"""What the carpenter wrote down: the job, the shop and the log, checked.

What is done to the files themselves (begin, change, describe, read from a text) is in ``files``.
"""

from evenfoot.job import files, kinds
from evenfoot.job.files import read_job, read_shop
from evenfoot.job.log import Log, LogLine
from evenfoot.job.model import FloorSpec, FrameSpec, Job, MemberSpec, SiteSpec
from evenfoot.job.shop import Shop, StockItem, Yard
from evenfoot.job.shopfile import yard_for

read_log = files.read_log
job_template = files.job_template
parse_job = files.parse_job

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
    "kinds",
    "read_job",
    "read_shop",
    "yard_for",
]
