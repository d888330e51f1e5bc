"""The numbered migrations of the store."""
