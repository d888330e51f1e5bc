"""What the desk shows of one plan or of several: cards of timbers, plans side by side, words of the pictures."""
