"""The sheets of the template workbook, a module for each."""
