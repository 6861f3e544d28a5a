"""What is wrong with a file, in one line for the person at the keyboard."""


class FileFault(ValueError):
    """A file that cannot be used; its text is one clear line."""
