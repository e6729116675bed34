"""Sections that a new file shows behind marks, to be taken up: lines, and what is said above them."""

from __future__ import annotations

EXAMPLES = {
    "bed": ['from = "0.2 m"', 'to = "1.1 m"', 'height = "-350 mm"'],
    "weighing": [
        "reading = [",
        '  { at = "100 mm, measured", other = "2.0 m, measured", reads = "24.5 kg, measured" },',
        '  { balance = "1.02 m +- 15 mm, measured" },',
        "]",
    ],
    "item": [
        'name = "solar panel"',
        'kind = "panel"',
        'mass = "7 kg, label"',
        'x = "0.9 m"',
        'z = "200 mm"',
        "removable = true",
    ],
    "coil": [
        'name = "pulling spring"',
        'foot = ["1.30 m", "-180 mm"]',
        'head = ["2.00 m", "-150 mm"]',
        'rate = "1.5 N/mm"',
        'free_length = "500 mm"',
    ],
    "torsion": ['name = "bar at the hinge"', 'at = "hinge"', 'moment = "20 N m"', 'per_degree = "0.3 N m"'],
    "cord": [
        'name = "cord"',
        'foot = ["1.30 m", "-180 mm"]',
        'head = ["2.00 m", "-150 mm"]',
        'slack_length = "400 mm"',
        'point = [{ length = "600 mm", force = "8 kg" }, { length = "800 mm", force = "13 kg" }]',
    ],
    "links": [
        'arm_a_length = "380 mm, measured"',
        'arm_b_length = "330 mm, measured"',
        'rise = "700 mm"',
        'tilt = "5 .. 20 deg"',
    ],
    "zone": [
        'name = "frame of the opening"',
        'on = "van"',
        'from = ["1.40 m", "-80 mm"]',
        'to = ["1.65 m", "-20 mm"]',
        'place = "560 mm"',
        "[[zone]]",
        'name = "side of the shell"',
        'on = "shell"',
        'from = ["0.90 m", "30 mm"]',
        'to = ["1.30 m", "80 mm"]',
        'place = "560 mm"',
    ],
    "at_hand": [
        'name = "pair from the shed"',
        "pieces = 2",
        'force = "500 N, label"',
        'stroke = "250 mm, measured"',
        'extended_length = "560 mm, measured"',
        'home_test = { reads_in = "19.0 kg", reads_out = "17.0 kg", plank = "1.2 m", spring_at = "0.4 m" }',
    ],
    "reading": ['how_open = "40 %"', 'way = "push up"', 'force = "9 kg, measured"', 'temperature = "17 C, measured"'],
    "tape": ['step = "hinges"', 'what = "lip height"', 'how_open = "100 %"', 'reads = "990 mm, measured"'],
    "roof_point": ['x = "1.0 m, measured"', 'y = "450 mm, measured"', 'height = "-12 mm, measured"'],
    "rim_point": ['x = "1.0 m, measured"', 'y = "600 mm, measured"', 'gap = "6 mm, measured"'],
    "candidate": ['name = "shell in the barn"', 'length = "2.10 m, measured"', 'width = "1.32 m, measured"'],
    "brace": [
        'kind = "bar"',
        'pivot = "450 mm"',
        'track_from = "50 mm"',
        'track_to = "520 mm"',
        'length = "960 mm"',
        'size = "20 mm, label"',
        'wall = "2 mm, label"',
        'limit = "900 N, label"',
    ],
    "bow": ['at = "600 mm, measured"', "kept = false", 'depth = "25 mm, measured"', 'width = "50 mm, measured"'],
    "joint": [
        'at = "hinge on van"',
        'bolt = "M6"',
        "count = 4",
        'layer = "steel sheet"',
        'thickness = "0.8 mm, measured"',
        'washer = "24 mm"',
    ],
    "lower_point": ['x = "1.0 m, measured"', 'y = "600 mm, measured"', 'z = "22 mm, measured"'],
    "upper_point": ['x = "1.0 m, measured"', 'y = "610 mm, measured"', 'z = "40 mm, measured"'],
    "seam": ['at = "900 mm"'],
    "layer": [
        'name = "canvas"',
        'role = "outer"',
        'mass = "320 g/m2, label"',
        'thickness = "0.6 mm, measured"',
        'bends = "40 mm, measured"',
        'shrink_along = "2 %, measured"',
        'shrink_across = "1 %, measured"',
    ],
    "window": ['wall = "left"', 'width = "500 mm"', 'height = "200 mm"'],
    "panel": ['power = "110, label"', 'use = "350, assumed"', 'latitude = "51 deg"'],
    "lift": [
        'foot = ["0.9 m", "-120 mm"]',
        'head = ["1.2 m", "60 mm"]',
        'force = "1500 N, label"',
        'stroke = "400 mm, label"',
        'shortest = "560 mm, label"',
        'speed = "12 mm/s, label"',
        'amps = "6, label"',
    ],
    "lining": ['insulation = "20 mm"', 'board = "3 mm"'],
    "bought": ['part = "rim-seal"', 'price = "4.20"', 'have = "8"'],
    "todo": ['task = "mark-out"', 'done = "2027-04-18"'],
}
EXAMPLE_NOTES = {
    "bed": "A board that the closed shell must clear. Take the marks away to use it.",
    "weighing": "What the scales said. Places are measured along the shell from its rear rim edge. "
    "Take the marks away to use it.",
    "item": "Something that rides on the shell; one such block for each. Take the marks away to use it.",
    "coil": "A coil spring that pulls or pushes between two points; one such block for each kind. "
    "Take the marks away to use it.",
    "torsion": "A spring or bar that turns the shell about its hinge, or an arm about its pivot on the van; one such "
    "block for each kind. Take the marks away to use it.",
    "cord": "An elastic cord between two points; one such block for each kind. Take the marks away to use it.",
    "links": "Lifting arms that are there already: the command links then says where to bolt them. "
    "Take the marks away to use it.",
    "zone": "Where brackets of springs may sit; one such block for each place, feet and heads. "
    "Left out: round the ends of the springs above. Take the marks away to use it.",
    "at_hand": "Springs that are there already; one such block for each kind. Take the marks away to use it.",
    "reading": "What the scale said on the built roof; one such block for each reading. Take the marks away to use it.",
    "tape": "What the tape said after a step of building; one such block for each. Take the marks away to use it.",
    "roof_point": "A height of the roof beside its middle, where the roof is no even bow; one such block for each. "
    "Take the marks away to use it.",
    "rim_point": "A gap under the rim, shell rim down on a flat floor, where the rim is no even bow; one such block "
    "for each. Take the marks away to use it.",
    "candidate": "Another shell that could be had; one such block for each. Take the marks away to use it.",
    "brace": "What keeps the free end from swaying: a bar in a track, straps or a folding arm. "
    "Take the marks away to use it.",
    "bow": "A cross member under the roof's skin; one such block for each. Take the marks away to use it.",
    "joint": "A group of bolts: what it holds, through what; one such block for each kind. "
    "Take the marks away to use it.",
    "lower_point": "A measured point of the cloth's lower line; one such block for each, eight or more. "
    "Take the marks away to use it.",
    "upper_point": "A measured point of the cloth's upper line, shell closed; one such block for each, eight or more. "
    "Take the marks away to use it.",
    "seam": "A seam at a place of its own, counted along the lower line from the middle of the rear end over the right "
    "side. Take the marks away to use it.",
    "layer": "A cloth from the roll, and what it is in the wall; one such block for each. "
    "Take the marks away to use it.",
    "window": "A window in a cloth wall; one such block for each. Take the marks away to use it.",
    "panel": "A solar panel and its cable; its weight stands as an [[item]]. Take the marks away to use it.",
    "lift": "Actuators that lift the roof by current. Take the marks away to use it.",
    "lining": "What lines the shell inside, and its lamps. Take the marks away to use it.",
    "bought": "Price of a part of the list, what is ordered and what is there; one such block for each. "
    "Take the marks away to use it.",
    "todo": "A task that is done, or has hours of your own; one such block for each. Take the marks away to use it.",
}
