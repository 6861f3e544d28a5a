"""One quote or invoice: found in a workbook, shown in the terminal, chosen in a copy to print."""
