"""The Excel host: the functions as xlwings serves them, the VBA module, and its installer."""
