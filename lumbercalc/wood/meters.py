"""Moisture meters: what a pin or pinless reading means in another wood, at another temperature."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from lumbercalc.wood import species as species_table
from lumbercalc.wood.floats import floats
from lumbercalc.wood.published import published_rows
from lumbercalc.wood.texts import different, holds, of_each

REFERENCE_WOOD = "Douglas-fir, coast"
"""Pin meters are scaled on it."""

MC_PER_DEGREE_F = 0.5 / 10
"""Wood Handbook, FPL-GTR-190 (2010), p. 13-3."""

PINLESS_RANGE_PCT = (4.0, 30.0)
"""Moisture contents that pinless meters serve for: Wood Handbook, FPL-GTR-190 (2010), p. 13-3."""


def mc_pin(
    reading_pct: ArrayLike,
    species: ArrayLike,
    wood_temp_f: ArrayLike,
    calibration_temp_f: ArrayLike = 70,
) -> NDArray[np.float64]:
    """Moisture content from the reading of a pin (resistance) meter.

    Parameters
    ----------
    reading_pct : array_like of float [% MC]
        Reading, with the meter set to Douglas-fir and its own corrections off.
    species : array_like of str
        Canonical names.
    wood_temp_f : array_like of float [deg F]
        Temperature of the wood, not of the air.
    calibration_temp_f : array_like of float, optional [deg F]
        Temperature that the meter is calibrated for.

    Returns
    -------
    ndarray of float [% MC]
        Corrected moisture content; NaN where the table does not have the species (`pin_species`)
        or the reading leaves it.

    Notes
    -----
    Temperature first: 0.5 % MC is added for every 10 deg F that the wood is colder than the
    calibration; in frozen wood above 15 % MC that is too little. Then species: the moisture
    content at which this wood has the resistance that Douglas-fir has at the reading, from 7 to
    25 % MC. Good to about 0.5 % MC up to 20 % and less above; for a given meter its maker's own
    table governs. The resistances are from memory, and of heartwood, so sapwood is less certain.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), p. 13-3, for temperature. James, FPL-GTR-6 (1988),
    Table 1, for resistance. Temperature before species: practice of ASTM D4444, from memory.

    Examples
    --------
    >>> print(mc_pin(12, ["Oak, white", "Birch, yellow", "Sassafras"], 70).round(1))
    [11.5 12.7  nan]
    >>> print(mc_pin(12, "Douglas-fir, coast", [40, 70, 90]).round(1))
    [13.5 12.  11. ]
    """
    reading, wood_temp, calibration_temp = floats(reading_pct, wood_temp_f, calibration_temp_f)
    at_calibration = reading + MC_PER_DEGREE_F * (calibration_temp - wood_temp)
    reference_mc, reference_log_ohm = _resistances()[REFERENCE_WOOD]
    # Rounded: a reading at the table's edge must not fall outside by a binary hair.
    shape = np.broadcast_shapes(at_calibration.shape, np.shape(species))
    log_ohm = np.broadcast_to(
        np.interp(
            np.round(at_calibration, 9), reference_mc, reference_log_ohm, left=np.nan, right=np.nan
        ),
        shape,
    )
    mc = np.full(shape, np.nan)
    for name in different(species).intersection(pin_species()):
        rows = np.broadcast_to(holds(species, name), shape)
        wood_mc, wood_log_ohm = _resistances()[name]
        # Turned round, because resistance falls as wood gets wetter and interp wants it rising.
        mc[rows] = np.interp(
            log_ohm[rows], wood_log_ohm[::-1], wood_mc[::-1], left=np.nan, right=np.nan
        )
    return mc


def pin_species() -> tuple[str, ...]:
    """Species that `mc_pin` can correct for.

    Returns
    -------
    tuple of str
        Canonical names, sorted.

    Examples
    --------
    >>> "Walnut, black" in pin_species(), "Cherry, black" in pin_species()
    (True, False)
    """
    return tuple(sorted(_resistances()))


def has_pin_figures(species: ArrayLike) -> NDArray[np.bool_]:
    """Tell which species `mc_pin` can correct for.

    Parameters
    ----------
    species : array_like of str
        Canonical names.

    Returns
    -------
    ndarray of bool
        True for those of `pin_species`.

    Examples
    --------
    >>> print(has_pin_figures(["Walnut, black", "Cherry, black"]))
    [ True False]
    """
    return of_each(species, _resistances().__contains__, np.bool_)


def mc_pinless(
    reading_pct: ArrayLike, meter_sg: ArrayLike, species: ArrayLike
) -> NDArray[np.float64]:
    """Moisture content from the reading of a pinless (dielectric) meter.

    Parameters
    ----------
    reading_pct : array_like of float [% MC]
        Reading of the meter.
    meter_sg : array_like of float
        Basic specific gravity (ovendry weight, green volume) that the meter was set to. A maker
        that means the 12 % MC figure prints one about a tenth higher: look in its manual.
    species : array_like of str
        Canonical names.

    Returns
    -------
    ndarray of float [% MC]
        Reading times `meter_sg` over the basic specific gravity of the species; NaN where that is
        outside 4 to 30 %.

    Notes
    -----
    A first-order rule: such a meter answers to the water in a volume of wood, so at one moisture
    content a denser wood reads higher. Specific gravity differs by about 10 % (coefficient of
    variation) between pieces of one species, and so does the result. That a reading grows in
    proportion to the density is itself from memory: no published correction was seen.

    References
    ----------
    James, FPL-GTR-6 (1988), from memory; range of such meters and scatter of specific gravity,
    Wood Handbook, FPL-GTR-190 (2010), pp. 13-3 and 4-9.

    Examples
    --------
    >>> print(mc_pinless(12, 0.50, ["Oak, white", "Basswood, American"]).round(1))
    [10.  18.8]
    """
    gravity = species_table.figure(species, "specific gravity")
    corrected = np.asarray(reading_pct) * np.asarray(meter_sg) / gravity
    lowest, highest = PINLESS_RANGE_PCT
    # Rounded: 30 * 0.61 / 0.61 is a hair above 30 in binary, and 30 is inside.
    about = np.round(corrected, 9)
    return np.where((about >= lowest) & (about <= highest), corrected, np.nan)


def matches_dry_sample(
    reading: ArrayLike, dry_reading: ArrayLike, tolerance: ArrayLike = 1
) -> NDArray[np.bool_]:
    """Tell whether a meter reads the stack like a piece known to be dry.

    Parameters
    ----------
    reading : array_like of float [% MC, or the meter's own scale]
        Reading of the stack.
    dry_reading : array_like of float [as reading]
        Reading of a dry piece of the same species and thickness, kept where the wood will live.
    tolerance : array_like of float, optional [as reading]
        How far apart, either way, still counts as the same; the limit itself counts.

    Returns
    -------
    ndarray of bool
        True where the two are alike. A stack that reads lower by more is not alike either:
        then the piece is not as dry as it was thought, or one of the readings is wrong.

    References
    ----------
    Common practice, no source.

    Examples
    --------
    >>> print(matches_dry_sample([8.1, 9.3, 11], 8.3))
    [ True  True False]
    """
    read, dry, most = floats(reading, dry_reading, tolerance)
    # Rounded: 9.3 - 8.3 is a hair above 1 in binary, and 1 is inside.
    alike: NDArray[np.bool_] = np.round(np.abs(read - dry), 9) <= most
    return alike


@cache
def _resistances() -> dict[str, tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """From species to moisture contents and the logarithms of the resistances there."""
    tables = {}
    for row in published_rows("james_1988_fpl_gtr_6_table_1.csv"):
        points = [(float(mc), float(row[mc])) for mc in row if mc.isdigit() and row[mc]]
        # A resistance printed again for wetter wood is the end of the scale, not a measurement.
        falling = [
            (mc, megohm)
            for i, (mc, megohm) in enumerate(points)
            if i == 0 or megohm < points[i - 1][1]
        ]
        mc, megohm = np.array(falling).T
        for name in row["species"].split("; "):
            tables[name] = (mc, np.log(megohm))
    return tables
