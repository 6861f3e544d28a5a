"""The rules of stacking that sheet Plan prints under its figures, each with its source."""

from __future__ import annotations

RULES = (
    (
        "Sticker thickness",
        "Half-inch stickers save height and need forced air in a stack of 4 ft. Three-quarter inch "
        "suits natural draft; 1 in under hardwood of 1-1/4 in and thicker.",
        "3/4 in: Wengert (2000); 1 in: TM 38-400 ch. 5; half inch: common practice, no source",
    ),
    (
        "Stack width",
        "Two feet wide with 3/4 in stickers is the safe start without a fan; about 4 ft is a usual "
        "package.",
        "4 ft: FPL Technical Note 233 (1960); 2 ft: common practice, no source",
    ),
    (
        "Sticker spacing",
        "24 in is usual; 16 to 18 in for costly hardwood; 12 in for wood that twists, for 8/4 and "
        "for the best quality.",
        "Univ. of Kentucky FOR-128 p. 69; Wengert (2000)",
    ),
    (
        "Off the ground",
        "At least 8 in outdoors; 12 to 18 in in a damp yard. Base flat from corner to corner.",
        "12 to 18 in: FOR-128 p. 80; 8 in and flatness: common practice, no source",
    ),
    (
        "Cover",
        "Outdoors a sloped roof, 12 to 18 in past the ends and 6 in past the sides: sun and rain "
        "check and stain the top. The forecast takes it as roofed. Never wrap wet wood in plastic.",
        "roof: TM 38-400 ch. 5; sun, rain and plastic: common practice, no source",
    ),
    (
        "Stickers",
        "Dry (8 to 10 % MC for light woods, never over 12), 1-1/4 to 1-1/2 in wide, one above the "
        "other, one at each end.",
        "Wengert (1998, 2000); 12 %: AH-188 ch. 5, from memory",
    ),
    (
        "Top weight",
        "50 lb/ft2 at least, 150 for woods that warp; more does not help. It adds to the floor "
        "load and must not be able to slide off.",
        "FOR-128 p. 68; Wengert (2014)",
    ),
    (
        "Ends",
        "End-seal at once when the log or board is cut: 10 ft walnut without it can lose 6 in at "
        "each end.",
        "Wengert (drying oak, step 1); FOR-128 p. 65",
    ),
    (
        "Clean boards",
        "Brush off sawdust: it holds water and stains. Stack within 12 hours of sawing in warm "
        "weather.",
        "12 h: FOR-128 p. 68; brushing: common practice, no source",
    ),
    (
        "Insects",
        "Edges, bark and sapwood harbor them: look there for holes and frass; keep boards with "
        "signs apart.",
        "common practice, no source",
    ),
    (
        "Air",
        "Fast air helps above 40 to 50 % MC, and its speed no longer matters below 20 %: then the "
        "room needs only enough to carry the water off. Below 50 deg F a fan adds little.",
        "Simpson, FPL-RN-0266 (1997), of eastern white pine; Lamb (2002); Wengert (2000)",
    ),
    (
        "Too fast",
        "When the fastest days pass the safe rate: shade, narrower gaps or less fan for the first "
        "weeks. Oak and beech first of all.",
        "rates: FOR-128 Table 9; what to do: common practice, no source",
    ),
    (
        "Too damp",
        "At 85 % RH or more where the air leaves, the far side hardly dries and may stain: thicker "
        "stickers, a narrower stack, a fan. The date is then too early.",
        "common practice, no source; mold index: Hukka and Viitanen (1999), for pine and spruce",
    ),
)
"""Choice, rule and source."""

VERDICTS = (
    "no room: not one layer fits; N stacks: it needs so many; never dry: the target is not reached "
    "in 5 years; damp: 85 % RH or more where the air leaves; mold: index 1 or more; too fast: over "
    "the safe rate; tall: over three times as tall as wide; base low: in an open yard, under 8 in "
    "off the ground; no rate: no safe rate is published for this wood, go by the most like wood; "
    "error: see the line above the choices."
)

CAUTIONS = (
    "Floor load is a figure, not an approval: ask a licensed engineer, follow the local code. "
    "Floors of living rooms are commonly designed for 40 lb/ft2 (IRC Table R301.5, from memory).",
    "A stack over three times as tall as wide topples easily (common practice, no source): keep it "
    "low, level and tied; nobody climbs on it. Lift boards in twos.",
    "Fans, dehumidifiers and cords: follow their labels and the local electrical code; none under "
    "a stack.",
    "Mold and dust harm lungs: air the room and wear what local rules ask for. The index is a "
    "warning, not a finding.",
)
