"""Forms of a time in which the tests write a log."""

FORMS = (
    "%Y-%m-%d %H:%M",
    "%Y-%m-%dT%H:%M:%S",
    "%Y/%m/%d %H:%M:%S",
    "%m/%d/%Y %H:%M",
    "%m/%d/%y %I:%M %p",
    "%m-%d-%Y %I:%M:%S %p",
    "%d.%m.%Y %H:%M",
    "%d.%m.%y, %H:%M:%S",
    "%d/%m/%Y %H:%M",
    "%d-%b-%Y %H:%M",
    "%b %d, %Y %I:%M %p",
    "%d %B %Y %H:%M:%S",
    "%a %b %d %Y %H:%M:%S",
    "%Y-%b-%d %H:%M",
    "%Y-%m-%dT%H:%M:%SZ",
    "%m/%d/%Y %I:%M %p GMT-05:00",
)
