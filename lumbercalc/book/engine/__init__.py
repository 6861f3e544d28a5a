"""The values of formulas without a spreadsheet: the formulas engine, made fit for a whole shop."""
