"""What a worksheet function is: the catalogue, its limits, cells to arrays, and one call."""
