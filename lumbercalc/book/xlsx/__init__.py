"""The file of a workbook: its archive, parts and values, read as they are or changed in place."""
