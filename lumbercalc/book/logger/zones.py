"""The time zone behind a time or over the times: the place's own clock, or that of UTC.

Days and months are those of the place, so that a time is taken as its clock showed it. An offset
that a logger writes is most likely the place's own (common practice, no source), and it changes
with daylight saving. Times of UTC are hours off, which hardly changes the mean of a month, and that
of a week a little: they are read too, and told.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

ZONE = (
    r"(?:Z|(?:UTC|GMT)(?:\s?[+-]\d\d?(?::?\d\d)?)?|[+-]\d\d(?::?\d\d)?"
    r"|(?:[ABCEHIMNP]|A[CEK]|HA|NZ)[SD]T|[CEMW]ET|[CEM]EST|MES?Z)"
)
"""Behind a time of day: -05:00, GMT-5, EST, CEST and the like; EAST and WEST are places."""
OVER = re.compile(
    r"(?:UTC|GMT)(?:(?:\soffset)?\s?[+-]\d\d?(?::?\d\d)?)?(?![a-z])", re.ASCII | re.IGNORECASE
)
"""In a header."""
UNIVERSAL = re.compile(r"Z|UTC|GMT|(?:UTC|GMT)?\s?[+-]00?(?::?00)?", re.ASCII | re.IGNORECASE)
SHOWN = 3


def in_universal_time(header: str) -> bool:
    """Tell whether a header says that the times below are of UTC.

    Parameters
    ----------
    header : str
        What stands over the column.

    Returns
    -------
    bool
        False for an offset from it.

    Examples
    --------
    >>> in_universal_time("Time, UTC"), in_universal_time("Date/Time (GMT-05:00)")
    (True, False)
    """
    over = OVER.search(header)
    return bool(over and UNIVERSAL.fullmatch(over[0]))


def zone_words(zones: Iterable[str], header: str) -> str:
    """Say how the zone of times was taken.

    Parameters
    ----------
    zones : iterable of str
        Each that stands behind a time, once; the header counts where there are none.
    header : str
        What stands over the times.

    Returns
    -------
    str
        To follow the order of the days; "" where no zone is named.

    Examples
    --------
    >>> zone_words(["EST", "EDT"], "Time")
    '; by the clock of EST, EDT, as written'
    """
    over = OVER.search(header)
    named = list(zones) or ([over[0]] if over else [])
    if not named:
        return ""
    # in winter the clock of a place may be that of UTC, in summer it is ahead then
    if all(map(UNIVERSAL.fullmatch, named)):
        return (
            "; in UTC, as written: days begin some hours off the place's own, which hardly "
            "changes a month's mean, and a week's a little"
        )
    more = ", ..." if len(named) > SHOWN else ""
    return f"; by the clock of {', '.join(named[:SHOWN])}{more}, as written"
