"""Quantities with units, as the build sheet writes them, to SI."""

import math
import re

POUND_KG = 0.45359237
POUND_FORCE_N = 4.4482216152605
KILOGRAM_FORCE_N = 9.80665
INCH_M = 0.0254
FOOT_M = 0.3048
RPM = math.pi / 30.0

FACTORS = {
    "kg": 1.0, "g": 1e-3, "lb": POUND_KG, "oz": POUND_KG / 16.0,
    "m": 1.0, "mm": 1e-3, "cm": 1e-2, "in": INCH_M, "ft": FOOT_M, "thou": INCH_M / 1000.0,
    "rpm": RPM, "rad/s": 1.0, "rpm/s": RPM,
    "N·m": 1.0, "Nm": 1.0, "N m": 1.0, "N*m": 1.0, "kgf·m": KILOGRAM_FORCE_N,
    "lbf·ft": POUND_FORCE_N * FOOT_M, "lb-ft": POUND_FORCE_N * FOOT_M,
    "lbft": POUND_FORCE_N * FOOT_M, "lb ft": POUND_FORCE_N * FOOT_M,
    "kg·m²": 1.0, "kg m2": 1.0, "kg m^2": 1.0, "kgm2": 1.0, "kg*m^2": 1.0,
    "g·m²": 1e-3, "kg·cm²": 1e-4, "kg·mm²": 1e-6,
    "lb·ft²": POUND_KG * FOOT_M**2, "lb·in²": POUND_KG * INCH_M**2,
    "N": 1.0, "kN": 1e3, "lbf": POUND_FORCE_N, "kgf": KILOGRAM_FORCE_N,
    "Pa": 1.0, "kPa": 1e3, "hPa": 100.0, "mbar": 100.0, "bar": 1e5, "inHg": 3386.389,
    "psi": POUND_FORCE_N / INCH_M**2, "ksi": 1e3 * POUND_FORCE_N / INCH_M**2, "MPa": 1e6,
    "K": 1.0,
    "s": 1.0, "ms": 1e-3, "min": 60.0, "m/s": 1.0, "km/h": 1.0 / 3.6, "mph": 0.44704,
    "m²": 1.0, "cm²": 1e-4, "ft²": FOOT_M**2,
    "kg/m³": 1.0, "g/cm³": 1e3, "lb/in³": POUND_KG / INCH_M**3,
    "kW": 1e3, "hp": 550.0 * FOOT_M * POUND_FORCE_N, "PS": 75.0 * KILOGRAM_FORCE_N,
    "J/(kg·K)": 1.0,
}


def si(text):
    """Value of a quantity string in SI units (temperatures in kelvin)."""
    number, unit = re.fullmatch(r"\s*([-+0-9.eE]+)\s*(.*?)\s*", text).groups()
    value = float(number)
    if unit in ("°C", "C"):
        return value + 273.15
    if unit in ("°F", "F"):
        return (value - 32.0) / 1.8 + 273.15
    return value * FACTORS[unit]
