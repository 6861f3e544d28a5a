"""The declarations of the worksheet functions, a module for each group of the catalogue."""
