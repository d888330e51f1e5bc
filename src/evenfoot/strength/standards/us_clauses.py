"""The clause behind each rule of North American practice, by the rule's code."""

from __future__ import annotations

from collections.abc import Mapping

_NDS = "NDS 2018"
_VALUES = "table 4.3.1; NDS Supplement 2018"

CLAUSES: Mapping[str, str] = {
    "bending": f"{_NDS} 3.3, {_VALUES}",
    "shear": f"{_NDS} 3.4.2, {_VALUES}",
    "notch-bending": f"{_NDS} 3.3 and 4.4.3, net section",
    "notch-shear": f"{_NDS} 3.4.3.2 and 4.4.3",
    "end-notch": f"{_NDS} 3.4.3.2 and 4.4.3",
    "bare-bending": f"{_NDS} 3.3; net section, no allowance for the notch",
    "bare-shear": f"{_NDS} 3.4.2; net section, no allowance for the notch",
    "notch-depth": f"{_NDS} 4.4.3: d/6, outside the middle third, d/3 long",
    "notch-length": f"{_NDS} 3.2.3: d/3 long, away from the ends",
    "end-notch-depth": f"{_NDS} 4.4.3: d/4",
    "notch-no-rule": f"{_NDS} 4.4.3: no notch where timber of 4 in and thicker is pulled, away from its ends",
    "bearing": f"{_NDS} 3.10, {_VALUES}",
    "post-head": f"{_NDS} 3.10, {_VALUES}",
    "buckling": f"{_NDS} 3.7.1, {_VALUES}",
    "slenderness": f"{_NDS} 3.7.1.4",
    "sag-live": "IRC 2018 tables R301.7 and R507.6, notes",
    "sag-tip": "IRC 2018 table R507.6, notes",
    "board-bending": f"{_NDS} 3.3, {_VALUES}",
    "board-shear": f"{_NDS} 3.4.2, {_VALUES}",
    "board-tip": f"{_NDS} 3.3, {_VALUES}",
    "board-sag-live": "IRC 2018 table R301.7",
    "ripped-board": f"{_NDS} 3.3, {_VALUES}",
}
