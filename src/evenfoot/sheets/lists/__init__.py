"""How lists and texts run over sheets and into the workbook."""
