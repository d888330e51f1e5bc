"""The same frame in a general finite element library: joists and beams in space, held so that only grillage is left."""

from __future__ import annotations

import numpy as np

COMBO = "c"


class Peer:
    """A model of a ``Grillage`` without shear flexibility; x along X, y along Z, up along Y.

    With ``is_joined`` crossing timbers share a node, so that slope and twist are one; otherwise each has its own node
    and a spring between them bears one on the other.
    """

    def __init__(self, built, *, joined_at=(), is_one_sided=False):
        from Pynite import FEModel3D

        self.grid, self.built, self.model = built.grid, built, FEModel3D()
        self.model.add_material("wood", 1000.0, 400.0, 0.25, 1e-9)
        self.alias = dict(joined_at)
        self.is_one_sided = is_one_sided
        self._nodes()
        self._members()

    def name(self, node):
        return f"n{self.alias.get(int(node), int(node))}"

    def _nodes(self):
        is_joist = np.zeros(len(self.grid.level), dtype=bool)
        is_joist[self.grid.ends[self.built.joist].ravel()] = True
        for node in range(len(self.grid.level)):
            if node in self.alias:
                continue
            height = 10.0 if is_joist[node] and not self.alias else 0.0
            self.model.add_node(self.name(node), self.built.x[node], height, self.built.y[node])
            twist = {} if self.alias else {"support_RZ": bool(is_joist[node]), "support_RX": not is_joist[node]}
            self.model.def_support(self.name(node), support_DX=True, support_DZ=True, support_RY=True, **twist)

    def _members(self):
        grid = self.grid
        for e, (a, b) in enumerate(grid.ends):
            second = grid.ei[e] / 1000.0
            twist = grid.gj[e] / 400.0 if grid.gj is not None else second
            self.model.add_section(f"s{e}", 1e4, second, second, twist)
            self.model.add_member(f"e{e}", self.name(a), self.name(b), "wood", f"s{e}")

    def hinge(self, element):
        """Let the second end of an element turn freely about its own bending axis."""
        self.model.def_releases(f"e{element}", Rzj=True)

    def bear(self, upper, lower, stiffness):
        # Both ways: the peer never lets a spring between two nodes act again once it has gone slack.
        self.model.add_spring(f"l{upper}", self.name(lower), self.name(upper), float(stiffness))

    def stand(self, node, stiffness):
        side = "-" if self.is_one_sided else None
        self.model.def_support_spring(self.name(node), "DY", float(stiffness), side)

    def solve(self, nodal, even, *, sparse=False):
        """Loads down: ``nodal`` {node: N}, ``even`` N/mm on each element."""
        for node, force in nodal.items():
            self.model.add_node_load(self.name(node), "FY", -float(force), case=COMBO)
        for e, q in enumerate(even):
            self.model.add_member_dist_load(f"e{e}", "FY", -float(q), -float(q), case=COMBO)
        self.model.add_load_combo(COMBO, {COMBO: 1.0})
        self.model.analyze(sparse=sparse, check_stability=False)

    def down(self):
        return np.array([-self.model.nodes[self.name(n)].DY[COMBO] for n in range(len(self.grid.level))])

    def moments(self):
        """Bending moment at the first end of each element; the sign is left out, since local axes differ."""
        return np.abs([self.model.members[f"e{e}"].moment("Mz", 0.0, COMBO) for e in range(len(self.grid.ends))])
