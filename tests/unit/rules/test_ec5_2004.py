"""Where the rules of Eurocode 5 end: each limit is taken, a hair beyond it is refused and named."""

from __future__ import annotations

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules.ec5_2004 import actions, bearing, deflection, shear, strength, vibration

SUM = {"Q_1": 2.5, "others": ((0.5, 1.75),), "gamma_Q": 1.5}
SNOW = {"d": 640.0, "gamma": 3.5e-6}
DESIGN = {"X_k": 24.0, "k_mod": 0.65, "gamma_M": 1.3}
DEPTH = {"h": 97.0, "rho_k": 350.0, "h_full": 150.0, "most": 1.3}
BEARING = {"l_1": 300.0, "h": 145.0, "apart": 2.0, "most": 1.5}
SHEAR = {"V": 3100.0, "b": 47.0, "h": 145.0, "k_cr": 0.67}
LIMIT = {"l": 2900.0, "share": 300.0, "overhang": 1.0}
MODES = {"f_1": 9.1, "b_m": 4.3, "l_m": 5.2, "EI_l": 5.8e6, "EI_b": 3.9e5}


@pytest.mark.parametrize(
    ("rule", "given", "name", "last", "beyond"),
    [
        (actions.design_sum, SUM, "gamma_Q", 1.0, 0.999),
        (actions.design_sum, SUM, "Q_1", 0.0, -0.001),
        (actions.snow_load, SNOW, "gamma", 1e-6, 0.999e-6),
        (actions.snow_load, SNOW, "gamma", 9e-6, 9.001e-6),
        (strength.design_strength, DESIGN, "k_mod", 1.1, 1.101),
        (strength.design_strength, DESIGN, "gamma_M", 1.0, 0.999),
        (strength.depth_factor, DEPTH, "most", 1.0, 0.999),
        (bearing.bearing_factor, BEARING, "most", 1.0, 0.999),
        (shear.shear_stress, SHEAR, "k_cr", 1.0, 1.001),
        (deflection.final_share_leading, {"k_def": 2.0, "psi_2": 0.3}, "psi_2", 1.0, 1.001),
        (deflection.final_share_other, {"k_def": 2.0, "psi_0": 0.7, "psi_2": 0.3}, "psi_0", 1.0, 1.001),
        (deflection.sag_limit, LIMIT, "share", 1.0, 0.999),
        (deflection.sag_limit, LIMIT, "overhang", 1.0, 0.999),
        (deflection.sag_limit, LIMIT, "overhang", 2.0, 2.001),
        (vibration.modes_below_40, MODES, "f_1", 40.0, 40.01),
        (vibration.kick_limit, {"b": 120.0, "f_1": 9.1}, "b", 50.0, 49.9),
        (vibration.kick_limit, {"b": 120.0, "f_1": 9.1}, "b", 150.0, 150.1),
        (vibration.kick_limit, {"b": 120.0, "f_1": 9.1}, "f_1", 8.001, 8.0),
    ],
)
def test_a_limit_is_taken_and_a_hair_beyond_it_is_refused(rule, given, name, last, beyond):
    assert rule(**(given | {name: last})) is not None
    with pytest.raises(OutOfRangeError) as caught:
        rule(**(given | {name: beyond}))
    assert (caught.value.fault.code, caught.value.fault.where) == ("rule-range", name)


@pytest.mark.parametrize(("last", "beyond"), [(1.0, 1.001), (0.0, -0.001)])
def test_shares_of_loads_lie_between_nothing_and_all(last, beyond):
    assert actions.characteristic_sum(Q_1=2.5, others=((last, 1.75),)) > 0.0
    with pytest.raises(OutOfRangeError) as caught:
        actions.characteristic_sum(Q_1=2.5, others=((beyond, 1.75),))
    assert caught.value.fault.where == "psi_0"
