"""Published figures the hydraulics are held against; none of them is read by the program."""

import numpy as np
import numpy.typing as npt

GPM = 3.785411784e-3 / 60.0  # US gallon a minute, m³/s
INCH = 0.0254  # m

# R1. Litres delivered a day for each l/min of drive water, by fall (first column, m) and lift
# above the ram (m). ITDG's table as reprinted in the UN/USAID notes on rams. Fall 4, lift 60
# reads 43 in print, against the pattern of its neighbours: 53 is put for it.
R1_LIFTS = (5, 7.5, 10, 15, 20, 30, 40, 50, 60, 80, 100, 125)
R1_ROWS = """
1.0|144|77|65|33|29|19.5|12.5| | | | |
1.5| |135|96.5|70|54|36|19|15| | | |
2.0| |220|156|105|79|53|33|25|19.5|12.5| |
2.5| |280|200|125|100|66|40.5|32.5|24|15.5|12|
3.0| | |260|180|130|87|65|51|40|27|17.5|12
3.5| | | |215|150|100|75|60|46|31.5|20|14
4.0| | | |255|173|115|86|69|53|36|23|16
5.0| | | |310|236|155|118|94|71.5|50|36|23
6.0| | | | |282|185|140|112|93.5|64.5|47.5|34.5
7.0| | | | | |216|163|130|109|82|60|48
8.0| | | | | | |187|149|125|94|69|55
9.0| | | | | | |212|168|140|105|84|62
10| | | | | | |245|187|156|117|93|69
12| | | | | | |295|225|187|140|113|83
14| | | | | | | |265|218|167|132|97
16| | | | | | | | |250|187|150|110
18| | | | | | | | |280|210|169|124
20| | | | | | | | | |237|188|140
"""

# R2. Eytelwein's experiments of 1804, as tabulated in a German waterworks text: efficiency by
# x = (lift - fall) / fall. Books differ on whose efficiency it is: 4 to 7 % apart.
R2_X = np.array([1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20], dtype=float)
R2_EFFICIENCY = np.array([0.92, 0.84, 0.77, 0.72, 0.67, 0.63, 0.56, 0.49, 0.43, 0.35, 0.22])

# R3. "Das Wasser", 1913: field figures, D'Aubuisson's efficiency by lift / fall.
R3_RATIO = np.array([2, 3, 4, 5, 6, 7], dtype=float)
R3_EFFICIENCY = np.array([0.70, 0.57, 0.47, 0.40, 0.38, 0.36])

# R4. Rule of sevens, a country-house building text: share of the water by lift / fall.
R4 = ((4.0, 1 / 7), (8.0, 1 / 14), (16.0, 1 / 28))


def r1_cells() -> npt.NDArray[np.float64]:
    """(125, 3): fall [m], lift [m], litres a day for each l/min."""
    cells: list[tuple[float, float, float]] = []
    for row in R1_ROWS.strip().splitlines():
        fall, *values = row.split("|")
        cells += [
            (float(fall), lift, float(value))
            for lift, value in zip(R1_LIFTS, values, strict=True)
            if value.strip()
        ]
    return np.array(cells)


# F1. ft of head per 100 ft at 20.2 °C, a trade chart: PE of controlled inside diameter.
# Hazen-Williams C 140 at these inside diameters [in].
F1_PE = {
    0.824: {5: 5.61, 6: 7.89, 7: 10.5, 8: 13.4, 10: 20.3},
    1.049: {
        5: 1.75,
        6: 2.44,
        7: 3.24,
        8: 4.1,
        10: 6.3,
        12: 8.8,
        14: 11.7,
        16: 15.0,
        18: 18.6,
        20: 22.6,
    },
    1.380: {
        6: 0.65,
        7: 0.85,
        8: 1.08,
        10: 1.66,
        12: 2.32,
        14: 3.1,
        16: 3.9,
        18: 4.9,
        20: 6.0,
        25: 9.0,
        30: 12.6,
        35: 16.8,
        40: 21.5,
    },
    1.610: {
        8: 0.51,
        10: 0.78,
        12: 1.11,
        14: 1.45,
        16: 1.87,
        18: 2.32,
        20: 2.81,
        25: 4.27,
        30: 5.96,
        35: 7.94,
        40: 10.2,
        50: 15.4,
        60: 21.5,
    },
}
# The same chart's PVC class 160 at C 150 (its 3/4 in column follows another coefficient).
F1_PVC = {
    1.195: {6: 1.13, 7: 1.52, 8: 1.9, 10: 2.9, 12: 4.1, 14: 5.45, 16: 7.0, 18: 8.7, 20: 10.6},
    1.532: {
        8: 0.58,
        10: 0.87,
        12: 1.22,
        14: 1.63,
        16: 2.1,
        18: 2.6,
        20: 3.2,
        25: 4.7,
        30: 6.7,
        35: 8.9,
        40: 11.4,
    },
    1.754: {
        12: 0.64,
        14: 0.85,
        16: 1.08,
        18: 1.33,
        20: 1.63,
        25: 2.48,
        30: 3.5,
        35: 4.6,
        40: 5.9,
        50: 8.9,
        60: 12.5,
    },
}
# F2. Illinois Administrative Code 77/906, Schedule 40 plastic, C 150, ft per 100 ft. Three cells
# stand 3 to 5 % off the power law of their own column and are left out: 12 gpm in 1 1/4 in
# (2.09), 9 and 12 gpm in 1 1/2 in (0.58, 1.01).
F2 = {
    1.049: {3: 0.60, 4: 1.01, 5: 1.52, 6: 2.14, 7: 2.89, 8: 3.63, 9: 4.57, 10: 5.50},
    1.380: {6: 0.55, 7: 0.76, 8: 0.97, 9: 1.21, 10: 1.46, 15: 3.06, 20: 5.23},
    1.610: {10: 0.70, 15: 1.45, 20: 2.46, 25: 3.75, 30: 5.22},
    2.067: {20: 0.74, 25: 1.10, 30: 1.54, 40: 2.62, 50: 3.98},
}
# F3. A pump maker's manual, Schedule 40 plastic as used, ft per 100 ft; its outlier (3/4 in at
# 10 gpm) left out.
F3 = {
    0.824: {2: 1.21, 3: 2.51, 4: 4.21, 5: 6.33, 6: 8.83, 8: 15.18, 15: 49.68, 20: 86.94},
    1.049: {3: 0.77, 4: 1.30, 5: 1.92, 6: 2.69, 8: 4.58, 10: 6.88, 15: 14.63, 20: 25.07},
    1.380: {5: 0.51, 6: 0.71, 8: 1.19, 10: 1.78, 15: 3.75, 20: 6.39, 30: 13.62, 40: 23.55},
    1.610: {8: 0.55, 10: 0.83, 15: 1.74, 20: 2.94, 30: 6.26, 40: 10.70, 50: 16.45},
    2.067: {15: 0.52, 20: 0.86, 30: 1.81, 40: 3.11, 50: 4.67},
}


def friction_cells(
    table: dict[float, dict[int, float]],
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Flow [m³/s], bore [m] and loss [m per 100 m] of every cell."""
    cells = np.array([(q, d, h) for d, column in table.items() for q, h in column.items()])
    return cells[:, 0] * GPM, cells[:, 1] * INCH, cells[:, 2]
