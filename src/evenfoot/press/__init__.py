"""Writers: each replays a neutral recording into one kind of file, with the same content as its fellows."""

from evenfoot.press.calendar import calendar_of
from evenfoot.press.dxf import dxf_of
from evenfoot.press.glb import glb_of
from evenfoot.press.ifc import ifc_of
from evenfoot.press.pdf import pdf_of
from evenfoot.press.plain import csv_of
from evenfoot.press.svg import svg_of
from evenfoot.press.workbook import workbook_of

__all__ = ["calendar_of", "csv_of", "dxf_of", "glb_of", "ifc_of", "pdf_of", "svg_of", "workbook_of"]
