"""Writes pchip.csv: monotone piecewise cubics through torque-curve-like points.

Values and first derivatives of SciPy's PchipInterpolator. Rows of kind `point`
give the data, rows of kind `value` an abscissa, the value and the derivative.
"""

import csv
from pathlib import Path

import numpy as np
from scipy.interpolate import PchipInterpolator

SETS = {
    # even spacing, one peak
    "even": ([1000, 2000, 3000, 4000, 5000, 6000], [120, 160, 190, 200, 185, 150]),
    # the fewest points a curve may have
    "four points": ([1200, 2900, 4700, 6600], [143.5, 210.25, 198.0, 131.75]),
    # spacing from 50 to 2,500 rpm
    "uneven": ([800, 850, 1900, 2000, 4500, 4700, 7200], [88, 93, 171, 174, 262, 259, 180]),
    # flat spots at the start, in the middle and at the end
    "flat spots": ([1000, 1500, 2500, 3000, 3800, 4600, 5200, 5800], [200, 200, 350, 350, 350, 320, 270, 270]),
    # slope changes sign at nearly every point
    "wavy": ([900, 1400, 2100, 2600, 3300, 3700, 4600, 5500, 5900], [150, 142, 190, 181, 230, 233, 221, 224, 160]),
    # end slopes that hit both shape guards
    "steep ends": ([1000, 1100, 3000, 5900, 6000], [60, 140, 150, 149, 60]),
    # a zig-zag end: the one-sided slope has the wrong sign
    "turned end": ([1000, 2500, 2700, 5000, 5300], [100, 104, 190, 110, 112]),
    "constant": ([1000, 2000, 4000, 7000], [175, 175, 175, 175]),
    # a boosted engine: nearly nothing, a step, a plateau, a fall
    "boosted": ([1000, 1600, 1900, 2200, 4300, 5500, 6500], [98, 132, 251.3, 349.9, 350, 318.2, 241.7]),
}


def abscissae(speeds):
    """Every point, its neighbourhood and uneven places between."""
    places = set(float(s) for s in speeds)
    for low, high in zip(speeds, speeds[1:]):
        places.update(low + (high - low) * f for f in (0.001, 0.117, 0.25, 0.382, 0.5, 0.71, 0.875, 0.999))
    return sorted(places)


def main():
    with open(Path(__file__).with_name("pchip.csv"), "w", newline="", encoding="utf-8") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow(["set", "kind", "x", "y", "dy_dx"])
        for name, (speeds, torques) in SETS.items():
            curve = PchipInterpolator(np.array(speeds, float), np.array(torques, float))
            slope = curve.derivative()
            for x, y in zip(speeds, torques):
                table.writerow([name, "point", repr(float(x)), repr(float(y)), ""])
            for x in abscissae(speeds):
                table.writerow([name, "value", repr(x), repr(float(curve(x))), repr(float(slope(x)))])


if __name__ == "__main__":
    main()
