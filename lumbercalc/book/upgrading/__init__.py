"""A workbook of an older template brought into a new one."""
