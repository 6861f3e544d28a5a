"""What any sheet is laid out with: tables, blocks, forms, styles, charts, allowed values."""
