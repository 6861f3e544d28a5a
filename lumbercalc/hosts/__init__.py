"""The hosts that a worksheet function answers in."""
