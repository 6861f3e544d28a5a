"""The template workbook: its sheets, its values, and the reader of a shop's workbook."""
