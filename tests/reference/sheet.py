"""Reads a build sheet (TOML) into plain SI numbers: the outside check's own reader.

Independent of the program under test: written from the description of the
launch model and of the sheet alone. It trusts its input; it is no validator.
"""

import csv
import math
import tomllib
from pathlib import Path
from types import SimpleNamespace

from parts import inertia_kg_m2
from units import si
from weather import (
    air_density_kg_m3,
    correction_factor,
    din_70020,
    iso_1585,
    pressure_pa_at,
    sae_j1349,
)

GRAVITY_M_S2 = 9.80665
HORSEPOWER_W = 550.0 * 0.3048 * 4.4482216152605
POUND_FOOT_NM = 0.3048 * 4.4482216152605
RPM = math.pi / 30.0  # one rpm in rad/s

STANDARDS = {"SAE J1349": sae_j1349, "ISO 1585": iso_1585, "DIN 70020": din_70020}


def read_curve(path):
    """Torque curve as (speeds in rpm, torques in N·m at the points)."""
    with open(path, encoding="utf-8") as handle:
        rows = [r for r in csv.reader(l for l in handle if not l.lstrip().startswith("#")) if r]
    head = [h.strip() for h in rows[0]]
    speeds = [float(r[head.index("speed_rpm")]) for r in rows[1:]]
    column = next(h for h in head if h != "speed_rpm")
    values = [float(r[head.index(column)]) for r in rows[1:]]
    torque = {
        "torque_nm": lambda n, v: v,
        "torque_lbft": lambda n, v: v * POUND_FOOT_NM,
        "power_kw": lambda n, v: v * 1000.0 / (n * RPM),
        "power_hp": lambda n, v: v * HORSEPOWER_W / (n * RPM),
    }[column]
    return speeds, [torque(n, v) for n, v in zip(speeds, values)]


def read_weather(table):
    """(pressure Pa, temperature °C, relative humidity), defaults filled in."""
    if "altitude" in table:
        pressure = pressure_pa_at(si(table["altitude"]))
    else:
        pressure = si(table.get("pressure", "101.325 kPa"))
    celsius = si(table.get("temperature", "15 °C")) - 273.15
    return pressure, celsius, table.get("humidity", 0.0)


def capacity_nm(clutch):
    """Full torque capacity: given, or mu F z Re."""
    if "capacity" in clutch:
        return si(clutch["capacity"])
    outer, inner = si(clutch["outer"]) / 2.0, si(clutch["inner"]) / 2.0
    if clutch.get("wear", "uniform wear") == "uniform wear":
        radius = (outer + inner) / 2.0
    else:
        radius = 2.0 / 3.0 * (outer**3 - inner**3) / (outer**2 - inner**2)
    return clutch["friction"] * si(clutch["clamp"]) * clutch["faces"] * radius


def read_table(table):
    return [(si(time), float(share)) for time, share in table]


def read_engine(sheet, folder, track):
    table = sheet["engine"]
    speeds, torques = read_curve(folder / table["torque_curve"])
    if "sweep" in table:
        back = si(table["sweep"]["rate"]) * si(table["sweep"]["inertia"])
        torques = [t + back for t in torques]
    stated = table["stated_for"]
    if stated == "as measured":
        dyno = read_weather(table["dyno_weather"])
        factor = correction_factor(sae_j1349, dyno) / correction_factor(sae_j1349, track)
    else:
        factor = 1.0 / correction_factor(STANDARDS[stated], track)
    motoring = si(table["motoring_torque"]) if "motoring_torque" in table else 0.12 * max(torques)
    return SimpleNamespace(
        speeds_rpm=speeds,
        torques_nm=torques,
        weather_factor=factor,
        limiter_rpm=si(table["limiter"]) / RPM,
        stall_rpm=si(table.get("stall", "500 rpm")) / RPM,
        motoring_nm=motoring,
    )


def read_sheet(path, wheel):
    """The car of a sheet with one of its flywheels, all in SI units."""
    path = Path(path)
    sheet = tomllib.loads(path.read_text(encoding="utf-8"))
    track_table = sheet.get("track", {})
    track = read_weather(track_table)
    clutch, box, body = sheet["clutch"], sheet["gearbox"], sheet["car"]
    tyre, driver = sheet["tyre"], sheet["driver"]
    engine = read_engine(sheet, path.parent, track)
    flywheel = next(w for w in sheet["flywheel"] if w["name"] == wheel)
    fitted = next(w for w in sheet["flywheel"] if w.get("fitted"))
    crank = sum(inertia_kg_m2(part) for part in sheet["crank_side"])

    foot = driver.get("hold", "foot") == "foot"
    if "throttle" in driver:
        throttle = read_table(driver["throttle"])
    else:
        duration = si(driver.get("throttle_time", "0.15 s" if foot else "0.02 s"))
        throttle = [(0.0, 0.0), (duration, 1.0)]
    release = read_table(clutch["release"]) if "release" in clutch else [(0.0, 0.0), (si(clutch["release_time"]), 1.0)]

    lift = driver.get("lift")
    if lift is not None:
        lift = SimpleNamespace(
            to=lift.get("to", 0.5),
            at_m_s=si(lift.get("at", "3 m/s")),
            reaction_s=si(lift.get("reaction", "0.25 s")),
            over_s=si(lift.get("over", "0.10 s")),
        )

    rear = body["drive"] == "rear"
    weight = si(body["mass"]) * GRAVITY_M_S2
    front_share = body["front_share"]
    open_live = body.get("axle") == "live" and body.get("differential", "locked") == "open"
    final = box["final"]
    pressure, celsius, humidity = track
    return SimpleNamespace(
        title=sheet["title"],
        wheel=wheel,
        engine=engine,
        crank_side_kg_m2=crank + inertia_kg_m2(flywheel),
        fitted_crank_side_kg_m2=crank + inertia_kg_m2(fitted),
        capacity_nm=capacity_nm(clutch),
        static_ratio=clutch.get("static_ratio", 1.10),
        fade=clutch.get("fade", 0.0),
        plate_heat_capacity_j_k=(
            si(clutch["plate_mass"]) * si(clutch.get("plate_specific_heat", "490 J/(kg·K)"))
            if "plate_mass" in clutch
            else None
        ),
        release=release,
        throttle=throttle,
        lift=lift,
        ratios=box["ratios"],
        final=final,
        efficiency=box.get("efficiency", 0.94),
        gearbox_side_kg_m2=si(clutch["disc_inertia"]) + si(box["input_inertia"]),
        wheels_kg_m2=si(body["driven_wheels_inertia"])
        + final**2 * si(box.get("propshaft_inertia", "0 kg·m²")),
        undriven_kg_m2=si(body["undriven_wheels_inertia"]),
        shift_at_rad_s=si(box["shift_at"]),
        shift_time_s=si(box.get("shift_time", "0.25 s")),
        shift_engage_s=si(box.get("shift_engage", "0.08 s")),
        shift_throttle_s=si(box.get("shift_throttle", "0.05 s")),
        flat_shift=box.get("flat_shift", False),
        mass_kg=si(body["mass"]),
        weight_n=weight,
        direction=1.0 if rear else -1.0,
        static_load_n=weight * ((1.0 - front_share) if rear else front_share),
        static_front_n=weight * front_share,
        transfer=si(body["mass"]) * si(body["cg_height"]) / si(body["wheelbase"]),
        pitch_s=si(body.get("pitch_time", "0.12 s")),
        drag_n_s2_m2=0.5 * air_density_kg_m3(pressure, celsius, humidity) * si(body["drag_area"]),
        rolling_n=body.get("rolling", 0.015) * weight,
        radius_m=si(tyre["radius"]),
        grip=tyre["grip"] * track_table.get("grip", 1.0),
        peak_slip=tyre.get("peak_slip", 0.12),
        sliding_share=tyre.get("sliding_share", 0.80),
        relaxation_m=si(tyre.get("relaxation", "0.25 m")),
        damping_s=si(tyre.get("damping_time", "4 ms")),
        load_sensitivity=tyre.get("load_sensitivity", 0.10),
        torque_reaction=(
            2.0 * body["front_roll_share"] * si(tyre["radius"]) / (final * si(body["track_width"]))
            if open_live
            else 0.0
        ),
        rollout_m=si(track_table.get("rollout", "0.30 m")),
        stage_depth_m=si(track_table.get("stage_depth", "0 m")),
        tolerance_s=si(track_table.get("tolerance", "0.02 s")),
        launch_sd_rpm=si(driver.get("launch_sd", "200 rpm")) / RPM,
        hold_exponent=driver.get("hold_exponent", 1.0),
        launch_range_rpm=(
            [si(n) / RPM for n in driver["launch_range"]]
            if "launch_range" in driver
            else [max(1500.0, 2.0 * engine.stall_rpm), engine.limiter_rpm]
        ),
    )
