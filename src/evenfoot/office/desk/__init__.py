"""The job on the page: what each station shows, what a typed field means, and how two people's changes meet."""

from evenfoot.office.desk.beginning import blank_job, example_job, example_names
from evenfoot.office.desk.form import Form, FormField, FormGroup, Grid, GridRow, Wrong, form_of
from evenfoot.office.desk.merging import Clash, Merged, merge
from evenfoot.office.desk.reckoning import Desk, Texts
from evenfoot.office.desk.shelf import Changed, Shelf, State, open_shelf
from evenfoot.office.desk.stations import Station, station_named, stations
from evenfoot.office.desk.typing import change_job, faults_of
from evenfoot.office.desk.viewing import Look, Picture, View, picture_of, view_of

__all__ = [
    "Changed",
    "Clash",
    "Desk",
    "Form",
    "FormField",
    "FormGroup",
    "Grid",
    "GridRow",
    "Look",
    "Merged",
    "Picture",
    "Shelf",
    "State",
    "Station",
    "Texts",
    "View",
    "Wrong",
    "blank_job",
    "change_job",
    "example_job",
    "example_names",
    "faults_of",
    "form_of",
    "merge",
    "open_shelf",
    "picture_of",
    "station_named",
    "stations",
    "view_of",
]
