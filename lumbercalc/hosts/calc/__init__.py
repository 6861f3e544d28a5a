"""The LibreOffice Calc host: what runs inside Calc, the worker, the extension and its installer."""
