"""A data logger's record, read and averaged into the sheet Site."""
