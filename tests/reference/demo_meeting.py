"""Writes the invented meeting of a demo car: ../../demo-data/bogger-slips.csv and two logs beside it.

    python3 demo_meeting.py

Nothing of it was measured. The runs are this folder's own launches of the car of bogger.toml with other grip, sliding
share, release and clutch than its sheet has; from run to run they scatter as the sheet says drivers and tracks do, and
the strip and the logger read with the errors named below. In run 7 second gear was missed.
"""

import csv
import math
from copy import copy
from pathlib import Path

import numpy as np

from launch_reference import FOOT_M, Watch
from machine import ENGINE, RPM, WHEEL, Machine
from sheet import read_sheet

HERE = Path(__file__).parent
DEMO = HERE.parent.parent / "demo-data"

# The truth, which differs from the sheet: grip 1.21, sliding share 0.80, release 0.25 s, clutch as stated.
GRIP = 1.26
SLIDING_SHARE = 0.76
RELEASE_FACTOR = 1.12
CAPACITY_FACTOR = 1.03
# From run to run, as the sheet has them, and what is read of a run.
RELEASE_SD = 0.08
GRIP_SD = 0.015
TIMING_SD_S = 0.001
READ_SD_RPM = 25.0
TRAP_SD_SHARE = 0.002
# What the slips show; the speed is the mean over the last 66 ft.
MARKS_FT = (60.0, 330.0, 660.0, 1320.0)
LAST_FT, TRAP_FT = 1320.0, 66.0
# Launch speeds that were aimed at, rpm: first as always, then lower, then higher.
AIMED = (3300, 3300, 3300, 3000, 3000, 3000, 3300, 3600, 3600, 3900, 3900, 3300)
AIM_SD_RPM = 120.0
MISSED_RUN, MISSED_S = 7, 0.62
LOGGED_RUNS = (2, 9)
LOG_HZ = 50.0
LOG_NOISE_RPM = 12.0
LOG_TO_S = 2.6


def true_car():
    car = read_sheet(DEMO / "bogger.toml", "as supplied")
    car.grip *= GRIP / 1.21
    car.sliding_share = SLIDING_SHARE
    car.capacity_nm *= CAPACITY_FACTOR
    car.release = [(time * RELEASE_FACTOR, share) for time, share in car.release]
    return car


def of_a_run(car, chance):
    """The car with the luck of one run."""
    car = copy(car)
    car.grip *= 1.0 + GRIP_SD * chance.standard_normal()
    stretch = math.exp(RELEASE_SD * chance.standard_normal())
    car.release = [(time * stretch, share) for time, share in car.release]
    return car


def driven(car, rpm):
    """One run over all marks, and through the 66 ft before the last."""
    places = [foot * FOOT_M - car.stage_depth_m for foot in (*MARKS_FT, LAST_FT - TRAP_FT)]
    watch = Watch(car, sorted(places))
    Machine(car, rpm, max(places), 1e-10, 1e-12).run(watch)
    clock_s = watch.crossed[watch.clock_m][0]
    *times, before_trap_s = (watch.crossed[place][0] - clock_s for place in places)
    return watch, times, TRAP_FT * FOOT_M / (times[-1] - before_trap_s)


def write_log(watch, car, rpm, name, chance):
    """Engine and input shaft over the logger's own clock, up to 60 ft."""
    offset_s = chance.uniform(2.0, 6.0)
    rows = []
    before_s = 0.4
    for k in range(int((LOG_TO_S + before_s) * LOG_HZ)):
        t = k / LOG_HZ - before_s
        engine, shaft = rpm, 0.0
        for start, stop, dense, frozen in watch.steps:
            if start <= t <= stop:
                y = dense(t)
                engine = y[ENGINE] / RPM
                shaft = y[WHEEL] * car.final * car.ratios[frozen[2]] / RPM
        if t > watch.steps[-1][1]:
            break
        noise = LOG_NOISE_RPM * chance.standard_normal(2)
        rows.append((f"{t + offset_s:.3f}", round(engine + noise[0]), max(0, round(shaft + (noise[1] if shaft > 60.0 else 0.0)))))
    with open(DEMO / name, "w", newline="", encoding="utf-8") as file:
        file.write("# Engine and gearbox input of one run, off a logger (invented)\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("time_s", "engine_rpm", "input_rpm"))
        writer.writerows(rows)


def main():
    chance = np.random.default_rng(20260512)
    true = true_car()
    rows = []
    for run, aimed in enumerate(AIMED, start=1):
        rpm = aimed + AIM_SD_RPM * chance.standard_normal()
        car = of_a_run(true, chance)
        watch, times, speed_m_s = driven(car, rpm)
        speed_kmh = 3.6 * speed_m_s * (1.0 + TRAP_SD_SHARE * chance.standard_normal())
        missed = run == MISSED_RUN
        shown = [
            f"{time + TIMING_SD_S * chance.standard_normal() + (MISSED_S if missed and place > 0 else 0.0):.3f}"
            for place, time in enumerate(times)
        ]
        trace = ""
        if run in LOGGED_RUNS:
            trace = f"bogger-run-{run}.csv"
            write_log(watch, car, rpm, trace, chance)
        read = round((rpm + READ_SD_RPM * chance.standard_normal()) / 10.0) * 10
        remark = "missed second" if missed else ""
        rows.append([read, *shown, f"{speed_kmh:.1f}", trace, remark])
    with open(DEMO / "bogger-slips.csv", "w", newline="", encoding="utf-8") as file:
        file.write("# Twelve slips of a first meeting (invented): tests/reference/demo_meeting.py made them\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(
            ("launch_rpm", "sixty_foot_s", "330_s", "660_s", "1320_s", "1320_speed_kmh", "trace", "remark")
        )
        writer.writerows(rows)


if __name__ == "__main__":
    main()
