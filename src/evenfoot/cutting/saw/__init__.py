"""How a plan is sawn: the order along each stick, lengths ripped in two, and what the whole comes to."""
