"""The sheets of the template workbook: each in a module of its name, its reckoning beside it."""
