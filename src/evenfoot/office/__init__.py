"""office."""
