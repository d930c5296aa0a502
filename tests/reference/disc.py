"""Writes disc.csv: stresses in rotating discs of linearly varying thickness.

Plane stress, axisymmetric. With N = t r sigma_r and displacement u:
    N' = t sigma_theta - rho omega^2 t r^2            (equilibrium)
    u' = (sigma_r - nu sigma_theta) / E               (Hooke, compatibility)
    sigma_theta = E u / r + nu sigma_r
u and t sigma_r are continuous where the thickness steps. Bore free; at the
outer radius sigma_r is the given rim pull. Solved with scipy's solve_bvp at
tolerance 1e-10, all sections at once on a common 0..1 coordinate. The problem
is linear, so it is solved a second time as two initial-value problems (DOP853,
rtol 1e-12) added up: the two must agree to 1e-8 of the largest stress.
"""

import csv
import math
from pathlib import Path

import numpy as np
from scipy.integrate import solve_bvp, solve_ivp

TOLERANCE = 1e-10
AGREEMENT = 1e-8
POINTS = 20
STEEL = (7850.0, 205e9, 0.29)  # density kg/m3, modulus Pa, Poisson's ratio
IRON = (7200.0, 110e9, 0.26)

# name, material, rpm, rim pull Pa, sections (inner radius, outer radius, thickness there, thickness there) m
DISCS = [
    ("flat steel", STEEL, 9000.0, 0.0, [(0.018, 0.130, 0.014, 0.014)]),
    ("flat iron with ring gear", IRON, 6500.0, 1.9e6, [(0.030, 0.150, 0.022, 0.022)]),
    ("taper out steel", STEEL, 9750.0, 0.0, [(0.018, 0.130, 0.012, 0.020)]),
    ("taper in steel", STEEL, 9750.0, 0.0, [(0.018, 0.130, 0.024, 0.007)]),
    ("taper in iron with ring gear", IRON, 7000.0, 3.2e6, [(0.025, 0.140, 0.026, 0.011)]),
    ("two sections steel", STEEL, 9750.0, 0.0,
     [(0.018, 0.055, 0.014, 0.014), (0.055, 0.130, 0.012, 0.020)]),
    ("two sections steel with ring gear", STEEL, 9750.0, 6.0e6,
     [(0.018, 0.055, 0.014, 0.014), (0.055, 0.130, 0.012, 0.020)]),
    ("three sections steel", STEEL, 8500.0, 4.1e6,
     [(0.022, 0.058, 0.018, 0.018), (0.058, 0.119, 0.014, 0.023), (0.119, 0.140, 0.025, 0.025)]),
    ("thin web, heavy rim, iron", IRON, 7750.0, 2.4e6,
     [(0.017, 0.050, 0.020, 0.020), (0.050, 0.105, 0.010, 0.008), (0.105, 0.138, 0.030, 0.026)]),
    ("scalloped steel", STEEL, 10500.0, 7.7e6,
     [(0.022, 0.058, 0.018, 0.018), (0.058, 0.119, 0.0125, 0.0095)]),
    ("small bore steel", STEEL, 12000.0, 0.0, [(0.004, 0.060, 0.016, 0.010), (0.060, 0.110, 0.008, 0.012)]),
]


def thickness(section, r):
    a, b, ta, tb = section
    return ta + (tb - ta) * (r - a) / (b - a)


def rates(section, material, omega, r, force, strain, load=1.0):
    """d(t r sigma_r)/dr and d(u E)/dr at radius r; u enters as u E."""
    rho, _, nu = material
    t = thickness(section, r)
    radial = force / (t * r)
    hoop = strain / r + nu * radial
    return t * hoop - load * rho * omega**2 * t * r**2, radial - nu * hoop


def by_boundary_values(material, omega, rim_pull, sections):
    """Stress functions of every section from solve_bvp; scaled unknowns."""
    rho = material[0]
    outer = sections[-1][1]
    stress = rho * (omega * outer) ** 2
    scale = np.array([stress * thickness(sections[-1], outer) * outer, stress * outer])
    count = len(sections)

    def slopes(s, y):
        out = np.empty_like(y)
        for i, section in enumerate(sections):
            length = section[1] - section[0]
            df, du = rates(section, material, omega, section[0] + s * length,
                           y[2 * i] * scale[0], y[2 * i + 1] * scale[1])
            out[2 * i], out[2 * i + 1] = df * length / scale[0], du * length / scale[1]
        return out

    def ends(ya, yb):
        rim = rim_pull * thickness(sections[-1], outer) * outer / scale[0]
        gaps = [ya[0], yb[-2] - rim]
        for i in range(count - 1):
            gaps += [yb[2 * i] - ya[2 * i + 2], yb[2 * i + 1] - ya[2 * i + 3]]
        return np.array(gaps)

    mesh = np.linspace(0.0, 1.0, 101)
    found = solve_bvp(slopes, ends, mesh, np.ones((2 * count, mesh.size)), tol=TOLERANCE, bc_tol=1e-12,
                      max_nodes=200000)
    if not found.success:
        raise RuntimeError(found.message)

    def at(i, r):
        s = (r - sections[i][0]) / (sections[i][1] - sections[i][0])
        y = found.sol(s)
        return y[2 * i] * scale[0], y[2 * i + 1] * scale[1]

    return at


def by_shooting(material, omega, rim_pull, sections):
    """The same from two initial-value problems: loaded, and unloaded with unit bore strain."""
    outer = sections[-1][1]
    stress = material[0] * (omega * outer) ** 2
    runs = []
    for load, bore in ((1.0, 0.0), (0.0, stress * sections[0][0])):
        y, pieces = np.array([0.0, bore]), []
        for section in sections:
            run = solve_ivp(
                lambda r, z: rates(section, material, omega, r, z[0], z[1], load),
                section[:2], y, method="DOP853", rtol=1e-12, atol=1e-6, dense_output=True,
                max_step=(section[1] - section[0]) / 50.0,
            )
            y = run.y[:, -1]
            pieces.append(run.sol)
        runs.append((pieces, y))
    wanted = rim_pull * thickness(sections[-1], outer) * outer
    factor = (wanted - runs[0][1][0]) / runs[1][1][0]
    return lambda i, r: runs[0][0][i](r) + factor * runs[1][0][i](r)


def stresses(section, material, r, state):
    radial = state[0] / (thickness(section, r) * r)
    return radial, state[1] / r + material[2] * radial


def radii(sections):
    """About twenty places (section, radius), both sides of every step included."""
    total = sections[-1][1] - sections[0][0]
    for i, (a, b, _, _) in enumerate(sections):
        share = max(4, round(POINTS * (b - a) / total))
        for r in np.linspace(a, b, share):
            yield i, float(r)


def main():
    worst = 0.0
    with open(Path(__file__).with_name("disc.csv"), "w", newline="", encoding="utf-8") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow(["disc", "density_kg_m3", "modulus_pa", "poisson", "speed_rpm", "rim_pull_pa", "section",
                        "inner_m", "outer_m", "thickness_inner_m", "thickness_outer_m",
                        "radius_m", "radial_stress_pa", "tangential_stress_pa"])
        for name, material, rpm, pull, sections in DISCS:
            omega = rpm * math.pi / 30.0
            first = by_boundary_values(material, omega, pull, sections)
            second = by_shooting(material, omega, pull, sections)
            places = list(radii(sections))
            one = np.array([stresses(sections[i], material, r, first(i, r)) for i, r in places])
            two = np.array([stresses(sections[i], material, r, second(i, r)) for i, r in places])
            worst = max(worst, float(np.max(np.abs(one - two)) / np.max(np.abs(one))))
            for (i, r), (radial, hoop) in zip(places, one):
                row = [*material, rpm, pull, i, *sections[i], r, radial, hoop]
                table.writerow([name] + [i if x is i else f"{x:.15g}" for x in row])
    print(f"solve_bvp against initial values: {worst:.1e} of the largest stress")
    if worst > AGREEMENT:
        raise RuntimeError("the two solutions differ")


if __name__ == "__main__":
    main()
