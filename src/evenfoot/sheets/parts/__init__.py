"""What each sheet of the set shows."""
