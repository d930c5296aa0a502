"""Moments of inertia of the rotating parts about the crank axis, kg·m²."""

import math

from units import si

GRAVITY_M_S2 = 9.80665
# handbook round values, kg/m³
DENSITIES = {"steel": 7850.0, "grey iron": 7200.0, "aluminium": 2700.0}


def section(rho, table):
    """Mass and inertia of an annulus with thickness linear in radius."""
    a, b = si(table["inner"]) / 2.0, si(table["outer"]) / 2.0
    if "thickness" in table:
        ta = tb = si(table["thickness"])
    else:
        ta, tb = si(table["thickness_inner"]), si(table["thickness_outer"])
    slope = (tb - ta) / (b - a)
    base = ta - slope * a
    mass = 2.0 * math.pi * rho * (base * (b**2 - a**2) / 2.0 + slope * (b**3 - a**3) / 3.0)
    inertia = 2.0 * math.pi * rho * (base * (b**4 - a**4) / 4.0 + slope * (b**5 - a**5) / 5.0)
    return mass, inertia


def hole(rho, table):
    d, p = si(table["diameter"]), si(table["circle"]) / 2.0
    mass = -table["count"] * rho * math.pi * d**2 / 4.0 * si(table["depth"])
    return mass, mass * (p**2 + d**2 / 8.0)


def extra(table):
    if "count" in table:  # point masses on a circle, each of the given mass
        mass = table["count"] * si(table["mass"])
        return mass, mass * (si(table["circle"]) / 2.0) ** 2
    mass = si(table["mass"])
    return mass, mass * si(table["radius_of_gyration"]) ** 2


def swing(table):
    """Pendulum test; the empty platform's own inertia is taken off."""
    factor = GRAVITY_M_S2 * si(table["radius"]) ** 2 / (4.0 * math.pi**2 * si(table["length"]))
    platform_mass = si(table["platform_mass"]) if "platform_mass" in table else 0.0
    platform = factor * platform_mass * si(table["platform_period"]) ** 2 if platform_mass else 0.0
    loaded = factor * (si(table["mass"]) + platform_mass) * si(table["period"]) ** 2
    return loaded - platform


def density_kg_m3(material):
    return si(material["density"]) if isinstance(material, dict) else DENSITIES[material]


def inertia_kg_m2(part):
    if "inertia" in part:
        return si(part["inertia"])
    if "swing" in part:
        return swing(part["swing"])
    if "radius_of_gyration" in part:
        return si(part["mass"]) * si(part["radius_of_gyration"]) ** 2
    rho = density_kg_m3(part["material"])
    pieces = [section(rho, s) for s in part["sections"]]
    pieces += [hole(rho, h) for h in part.get("holes", [])]
    pieces += [extra(e) for e in part.get("extras", [])]
    mass = sum(m for m, _ in pieces)
    inertia = sum(j for _, j in pieces)
    if "weighed" in part:
        inertia *= si(part["weighed"]) / mass
    return inertia
