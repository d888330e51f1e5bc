"""Plain lists of pieces and sticks, as any spreadsheet writes them: read without a job."""
