"""Correction factors and air density; run, it writes weather.csv.

SAE J1349, ISO 1585 (spark ignition) and DIN 70020 as the standards print
them (from memory; each is 1 at its own reference); vapour pressure after
Magnus as in WMO-No. 8; pressure with altitude after ISO 2533 (from memory).
"""

import csv
import math
from pathlib import Path


def steam_pressure_pa(celsius):
    """Saturation vapour pressure over water."""
    return 611.2 * math.exp(17.62 * celsius / (243.12 + celsius))


def dry_pressure_pa(pressure_pa, celsius, humidity):
    return pressure_pa - humidity * steam_pressure_pa(celsius)


def sae_j1349(pressure_pa, celsius, humidity):
    dry = dry_pressure_pa(pressure_pa, celsius, humidity)
    return 1.180 * (99000.0 / dry) * math.sqrt((celsius + 273.0) / 298.0) - 0.180


def iso_1585(pressure_pa, celsius, humidity):
    dry = dry_pressure_pa(pressure_pa, celsius, humidity)
    return (99000.0 / dry) ** 1.2 * ((celsius + 273.0) / 298.0) ** 0.6


def din_70020(pressure_pa, celsius, _humidity):
    return (101300.0 / pressure_pa) * math.sqrt((celsius + 273.0) / 293.0)


def correction_factor(standard, weather):
    return standard(*weather)


def air_density_kg_m3(pressure_pa, celsius, humidity):
    kelvin = celsius + 273.15
    steam = humidity * steam_pressure_pa(celsius)
    return (pressure_pa - steam) / (287.05 * kelvin) + steam / (461.5 * kelvin)


def pressure_pa_at(altitude_m):
    """ISO 2533 below 11 km: 6.5 K/km from 288.15 K and 101.325 kPa."""
    exponent = 9.80665 / (287.05287 * 0.0065)
    return 101325.0 * (1.0 - 0.0065 * altitude_m / 288.15) ** exponent


CONDITIONS = [
    # pressure Pa, °C, relative humidity
    (99000.0, 25.0, 0.0), (101300.0, 20.0, 0.0), (101325.0, 15.0, 0.0),
    (100800.0, 22.0, 0.50), (98542.0, 25.5556, 0.62), (99974.0, 12.0, 0.70),
    (95000.0, 35.0, 0.80), (102800.0, -5.0, 0.90), (84556.0, 30.0, 0.15),
    (101325.0, 40.0, 1.00), (103000.0, 0.0, 0.35), (90000.0, 18.0, 0.45),
]


def main():
    with open(Path(__file__).with_name("weather.csv"), "w", newline="", encoding="utf-8") as out:
        table = csv.writer(out, lineterminator="\n")
        table.writerow([
            "pressure_pa", "temperature_c", "humidity", "steam_pressure_pa", "dry_pressure_pa",
            "sae_j1349", "iso_1585", "din_70020", "air_density_kg_m3",
        ])
        for weather in CONDITIONS:
            pressure, celsius, humidity = weather
            numbers = [
                steam_pressure_pa(celsius), dry_pressure_pa(*weather), sae_j1349(*weather),
                iso_1585(*weather), din_70020(*weather), air_density_kg_m3(*weather),
            ]
            table.writerow([pressure, celsius, humidity] + [f"{x:.15g}" for x in numbers])


if __name__ == "__main__":
    main()
