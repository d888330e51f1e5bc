"""Everything that is done to job, shop and log files, by one name: read, begin, change, describe."""

from evenfoot.job.file.describe import job_keys, job_schema, log_keys, log_kinds, shop_keys
from evenfoot.job.file.editing import edit_job
from evenfoot.job.file.faults import located
from evenfoot.job.file.key_facts import KeyFact, KeyKind, default_of, key_facts
from evenfoot.job.file.text import read_tree
from evenfoot.job.file.writing import job_template
from evenfoot.job.lists.cut_list import CutList, WantedPiece, read_came, read_cut_list
from evenfoot.job.log import CameStick
from evenfoot.job.logfile import append_log, line_row, parse_log, read_log
from evenfoot.job.parse import parse_job, read_job
from evenfoot.job.shopfile import parse_shop, read_shop, shop_template

__all__ = [
    "CameStick",
    "CutList",
    "KeyFact",
    "KeyKind",
    "WantedPiece",
    "append_log",
    "default_of",
    "edit_job",
    "job_keys",
    "job_schema",
    "job_template",
    "key_facts",
    "line_row",
    "located",
    "log_keys",
    "log_kinds",
    "parse_job",
    "parse_log",
    "parse_shop",
    "read_came",
    "read_cut_list",
    "read_job",
    "read_log",
    "read_shop",
    "read_tree",
    "shop_keys",
    "shop_template",
]
