"""One launch of a build sheet, by an implementation of its own.

    python3 launch_reference.py SHEET --wheel NAME --at RPM [--to 1320] [--log]

prints one launch as JSON, in the layout of `flyheft launch --json`.
"""

import argparse
import json
import math

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from machine import (
    DRAG, ENGINE, HEAT, LOSS, PLACE, RPM, ROLLING, SPEED, TRANSFER, TYRE, WHEEL, WORK,
    LIMITER_FADE_RPM, Machine,
)
from sheet import read_sheet

FOOT_M = 0.3048
MARKS_FT = (60.0, 330.0, 660.0, 1000.0, 1320.0)
BOG_SHARE = 0.80
SAMPLES = np.linspace(0.0, 1.0, 7)
NEAR = 1e-3  # samples this close to an extreme, relative, are refined


class Watch:
    """Sees every step and gathers what a launch reports."""

    def __init__(self, car, marks_m):
        self.car = car
        self.marks_m = marks_m
        self.clock_m = car.rollout_m - car.stage_depth_m
        self.crossed = {}  # distance -> (time, state)
        self.sixty_m = marks_m[0]
        self.lock_s = None
        self.lock_heat_j = None
        self.first_shift_s = None
        self.spinning_since = None
        self.spin_s = self.spin_m = 0.0
        self.samples = []  # (time, acceleration, |clutch torque|, engine speed, step index)
        self.steps = []  # (start, end, dense, settings of the machine)
        self.highest_rpm = 0.0
        self.highest_transfer_n = 0.0

    @property
    def sixty(self):
        return self.crossed.get(self.sixty_m)

    def lock(self, t, y):
        if self.lock_s is None:
            self.lock_s, self.lock_heat_j = t, float(y[HEAT])

    def shift(self, t):
        if self.first_shift_s is None:
            self.first_shift_s = t

    def step(self, machine, start, end, dense):
        if end <= start:
            return
        last = dense(end)
        before_sixty = self.sixty is None
        for place in [self.clock_m] + self.marks_m:
            if place not in self.crossed and last[PLACE] >= place - 1e-12:
                self.crossed[place] = self.find_place(place, start, end, dense)
        stop = self.sixty[0] if before_sixty and self.sixty else end
        times = start + (end - start) * SAMPLES
        states = dense(times)
        self.highest_rpm = max(self.highest_rpm, float(states[ENGINE].max()) / RPM)
        self.highest_transfer_n = max(self.highest_transfer_n, float(states[TRANSFER].max()))
        if before_sixty:
            self.extremes(machine, start, stop, dense)

    def find_place(self, place, start, end, dense):
        if dense(end)[PLACE] <= place:
            return end, dense(end)
        root = brentq(lambda s: dense(s)[PLACE] - place, start, end, xtol=1e-14)
        return root, dense(root)

    def extremes(self, machine, start, stop, dense):
        index = len(self.steps)
        frozen = (machine.mode, machine.sign, machine.gear, machine.shifts, machine.e, machine.lam, machine.psi)
        self.steps.append((start, stop, dense, frozen))
        before = None
        for t in start + (stop - start) * SAMPLES:
            y = dense(t)
            now = machine.evaluate(t, y.tolist())
            self.samples.append((t, now.acceleration_m_s2, abs(now.clutch_nm), y[ENGINE], index))
            past = now.slip - self.car.peak_slip
            if past > 0.0 and self.spinning_since is None:
                self.spinning_since = self.edge(machine, before, t, y, dense, start)
            elif past <= 0.0 and self.spinning_since is not None:
                self.stop_spin(self.edge(machine, before, t, y, dense, start))
            before = t
        self.last_seen = (stop, dense(stop))

    def edge(self, machine, before, t, y, dense, start):
        """Where the slip passes its peak: (time, place)."""
        if before is None or before == t:  # it jumped across between two steps
            return t, y[PLACE]

        def past(s):
            return machine.evaluate(s, dense(s).tolist()).slip - self.car.peak_slip

        if (past(before) > 0.0) == (past(t) > 0.0):
            return t, y[PLACE]
        root = brentq(past, before, t, xtol=1e-14)
        return root, dense(root)[PLACE]

    def stop_spin(self, edge):
        self.spin_s += edge[0] - self.spinning_since[0]
        self.spin_m += edge[1] - self.spinning_since[1]
        self.spinning_since = None

    def refine(self, machine, column, sense, until_s=math.inf):
        """The extreme of one sampled quantity, refined on the dense output."""
        rows = [r for r in self.samples if r[0] <= until_s]
        best = max(rows, key=lambda r: sense * r[column])
        value, when = best[column], best[0]
        margin = NEAR * abs(value)
        for index in sorted({r[4] for r in rows if sense * r[column] >= sense * value - margin}):
            start, stop, dense, frozen = self.steps[index]
            (machine.mode, machine.sign, machine.gear, machine.shifts, machine.e, machine.lam, machine.psi) = frozen
            machine.set_gear()

            def score(s):
                y = dense(s).tolist()
                now = machine.evaluate(s, y)
                return -sense * (now.acceleration_m_s2, abs(now.clutch_nm), y[ENGINE])[column - 1]

            found = minimize_scalar(score, bounds=(start, min(stop, until_s)), method="bounded",
                                    options={"xatol": 1e-12})
            if -found.fun > sense * value:
                value, when = sense * -found.fun, found.x
        return float(value), float(when)


def bog_rpm(machine):
    """Lowest speed at which the curve makes 80 % of its peak."""
    target = BOG_SHARE * max(machine.car.engine.torques_nm)
    if machine.curve_nm(machine.knots[0]) >= target:
        return brentq(lambda n: machine.curve_nm(n) - target, machine.car.engine.stall_rpm,
                      machine.knots[0] * (1.0 - 1e-15))
    for low, high in zip(machine.knots, machine.knots[1:]):
        if machine.curve_nm(high) >= target:
            return brentq(lambda n: machine.curve_nm(n) - target, low, high)
    return math.inf


def energy_account(machine, car, y, ratio_kg_m2):
    je = car.crank_side_kg_m2
    start = machine.launch_rpm * RPM
    return {
        "engine": y[WORK],
        "crank_side_given_up": 0.5 * je * (start**2 - y[ENGINE] ** 2),
        "car": 0.5 * car.mass_kg * y[SPEED] ** 2,
        "wheels_and_driveline": 0.5 * car.undriven_kg_m2 * (y[SPEED] / car.radius_m) ** 2
        + 0.5 * ratio_kg_m2 * y[WHEEL] ** 2,
        "clutch": y[HEAT],
        "tyre": y[TYRE],
        "driveline_loss": y[LOSS],
        "drag": y[DRAG],
        "rolling": y[ROLLING],
    }


def imbalance(energy):
    """Relative gap of the energy account, of its largest term."""
    given = energy["engine"] + energy["crank_side_given_up"]
    taken = sum(v for k, v in energy.items() if k not in ("engine", "crank_side_given_up"))
    return (given - taken) / max(abs(v) for v in energy.values())


def launch(car, launch_rpm, to_ft=1320.0, rtol=1e-10, atol=1e-12):
    """Runs one launch; returns (report, details for the curious)."""
    distances = [ft * FOOT_M for ft in MARKS_FT if ft <= to_ft]
    marks = [d - car.stage_depth_m for d in distances]
    watch = Watch(car, marks)
    machine = Machine(car, launch_rpm, marks[-1], rtol, atol)
    outcome, end_s, last = machine.run(watch)

    clock = watch.crossed.get(watch.clock_m)
    passed = []
    for distance, mark in zip(distances, marks):
        hit = watch.crossed.get(mark)
        passed.append({
            "distance_m": distance,
            "time_s": hit[0] - clock[0] if hit else None,
            "speed_m_s": float(hit[1][SPEED]) if hit else None,
        })
    sixty = watch.sixty
    stop_s, stop = sixty if sixty else (end_s, last)
    if watch.spinning_since is not None:
        watch.stop_spin((stop_s, stop[PLACE]))
    heat = watch.lock_heat_j if watch.lock_s is not None and watch.lock_s <= stop_s else float(stop[HEAT])
    plate = car.plate_heat_capacity_j_k
    until = min(stop_s, watch.first_shift_s or math.inf)
    slowest, slowest_s = watch.refine(machine, 3, -1.0, until)
    acceleration, _ = watch.refine(machine, 1, 1.0)
    torque, _ = watch.refine(machine, 2, 1.0)
    energy = None
    if sixty:
        gear_steps = [s for s in watch.steps if s[0] < stop_s]
        machine.gear = gear_steps[-1][3][2]
        machine.set_gear()
        energy = energy_account(machine, car, sixty[1], machine.driveline_kg_m2)
    to_sixty = float(stop[HEAT])
    lifts, lifted_s = machine.foot.lifts_until(stop_s)
    limiter = car.engine.limiter_rpm - LIMITER_FADE_RPM
    bog = bog_rpm(machine)
    report = {
        "outcome": outcome,
        "sixty_foot_s": passed[0]["time_s"],
        "marks": passed,
        "minimum_rpm": slowest / RPM,
        "minimum_rpm_at_s": slowest_s,
        "droop_rpm": launch_rpm - slowest / RPM,
        "lock_at_s": watch.lock_s,
        "clutch_heat_j": heat,
        "plate_rise_k": heat / plate if plate else None,
        "clutch_heat_to_sixty_foot_j": to_sixty,
        "plate_rise_to_sixty_foot_k": to_sixty / plate if plate else None,
        "spin_time_s": watch.spin_s,
        "spin_distance_m": float(watch.spin_m),
        "peak_acceleration_m_s2": acceleration,
        "peak_input_torque_nm": torque,
        "front_wheels_lifted": bool(car.direction > 0.0 and watch.highest_transfer_n >= car.static_front_n),
        "bogged": bool(slowest / RPM < bog),
        "touched_limiter": bool(watch.highest_rpm > limiter),
        "crank_side_inertia_kg_m2": car.crank_side_kg_m2,
        "energy_j": {k: float(v) for k, v in energy.items()} if energy else None,
    }
    if car.lift is not None:
        report |= {"lifts": lifts, "lifted_time_s": lifted_s}
    details = {
        "log": machine.log,
        "end_s": end_s,
        "imbalance": imbalance(energy) if energy else None,
        "bog_rpm": bog,
        "bog_margin_rpm": slowest / RPM - bog,
        "limiter_margin_rpm": limiter - watch.highest_rpm,
        "lift_margin": 1.0 - watch.highest_transfer_n / car.static_front_n,
    }
    return report, details


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("sheet")
    parser.add_argument("--wheel", required=True)
    parser.add_argument("--at", type=float, required=True, help="launch speed, rpm")
    parser.add_argument("--to", type=float, default=1320.0, help="last mark, ft")
    parser.add_argument("--log", action="store_true", help="also print the events")
    options = parser.parse_args()
    car = read_sheet(options.sheet, options.wheel)
    report, details = launch(car, options.at, options.to)
    head = {"schema": "flyheft/launch/1", "title": car.title, "flywheel": car.wheel, "launch_rpm": options.at}
    print(json.dumps(head | report, indent=1, ensure_ascii=False))
    if options.log:
        for t, n, x, text in details.pop("log"):
            print(f"{t:10.6f} s {n:9.2f} rpm {x:9.3f} m  {text}")
        print(details)


if __name__ == "__main__":
    main()
