"""What `lumbercalc check` finds in a workbook, and the copy with fresh values."""
