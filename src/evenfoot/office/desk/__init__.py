"""The job on the page: what each station shows, what a typed field means, and how two people's changes meet."""

from evenfoot.office.actions import PARTS
from evenfoot.office.desk.asking import Question, SiteAnswer, SiteForm, ask_on_site
from evenfoot.office.desk.beginning import blank_job, example_job, example_names, typeface
from evenfoot.office.desk.captions import drawing_words, space_words
from evenfoot.office.desk.card import TimberCard, timber_card
from evenfoot.office.desk.compare import Comparison
from evenfoot.office.desk.form import (
    Form,
    FormField,
    FormGroup,
    Grid,
    GridRow,
    Wrong,
    fields_of,
    form_of,
    home_of,
    label_of,
)
from evenfoot.office.desk.grips import Grip, drag_changes
from evenfoot.office.desk.logs import by_clock, differing
from evenfoot.office.desk.merging import Clash, Merged, merge
from evenfoot.office.desk.past import KeyChange, Step, key_changes, steps_of
from evenfoot.office.desk.reckoning import Desk, Texts, text_faults
from evenfoot.office.desk.shelf import Changed, Shelf, State, open_shelf
from evenfoot.office.desk.stations import Station, station_named, stations
from evenfoot.office.desk.typing import Typed, change_job, faults_of
from evenfoot.office.desk.viewing import (
    Look,
    Picture,
    Told,
    View,
    drawing_names,
    picture_of,
    sheet_of,
    told_of,
    view_of,
)
from evenfoot.office.desk.whatif import KEYS as WHAT_IF_KEYS
from evenfoot.office.desk.whatif import MOST as MOST_VARIANTS
from evenfoot.office.desk.whatif import WhatIf, compare_states, what_if
from evenfoot.store import Head

__all__ = [
    "MOST_VARIANTS",
    "PARTS",
    "WHAT_IF_KEYS",
    "Changed",
    "Clash",
    "Comparison",
    "Desk",
    "Form",
    "FormField",
    "FormGroup",
    "Grid",
    "GridRow",
    "Grip",
    "Head",
    "KeyChange",
    "Look",
    "Merged",
    "Picture",
    "Question",
    "Shelf",
    "SiteAnswer",
    "SiteForm",
    "State",
    "Station",
    "Step",
    "Texts",
    "TimberCard",
    "Told",
    "Typed",
    "View",
    "WhatIf",
    "Wrong",
    "ask_on_site",
    "blank_job",
    "by_clock",
    "change_job",
    "compare_states",
    "differing",
    "drag_changes",
    "drawing_names",
    "drawing_words",
    "example_job",
    "example_names",
    "faults_of",
    "fields_of",
    "form_of",
    "home_of",
    "key_changes",
    "label_of",
    "merge",
    "open_shelf",
    "picture_of",
    "sheet_of",
    "space_words",
    "station_named",
    "stations",
    "steps_of",
    "text_faults",
    "timber_card",
    "told_of",
    "typeface",
    "view_of",
    "what_if",
]
