"""How drawings are made: paper, scale, window, grain, labels and running dimensions."""
