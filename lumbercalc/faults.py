"""What is wrong with a file, in one line for the person at the keyboard."""


class FileFault(ValueError):  # noqa: N818 - what is wrong with the file, not an error of the program
    """A file that cannot be used; its text is one clear line.

    Parameters
    ----------
    text : str
        Which file, where in it, what is there and what must be; line breaks in it (a file's name
        may hold one) become spaces.
    """

    def __init__(self, text: str) -> None:
        super().__init__(" ".join(text.split()))
