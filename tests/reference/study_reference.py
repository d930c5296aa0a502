"""Writes study.json: sixty-foot time over launch speed, quickest, window, scatter.

For two cars and two flywheels each:
  curve     every 50 rpm over the launch range, ends included (null: stalled);
  quickest  the lowest grid points refined by Brent's bounded search;
  window    the grid walked outwards from the quickest to the first point above
            quickest + tolerance, that edge then bisected;
  scatter   mean and standard deviation at two launch speeds under normal
            scatter of launch speed alone: 400 quantiles at (i + 1/2)/400,
            clipped to stall..limiter, a stall counted as the stall cost.
"""

import json
import math
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from scipy.optimize import minimize_scalar
from scipy.stats import norm

from launch_reference import FOOT_M, Watch
from machine import Machine
from sheet import read_sheet

HERE = Path(__file__).parent
RTOL, ATOL = 1e-9, 1e-11
GRID_RPM = 50.0
DRAWS = 400
STALL_COST_S = 5.0  # the sheets leave it at its default
EDGE_RPM = 1e-3
RIVAL_S = 0.01  # local minima this close to the lowest grid point are refined too
CASES = [
    # case, flywheel, launch speeds of the scatter
    ("d-live", "works wheel", (2200.0, 4000.0)),
    ("d-live", "deep cut", (2200.0, 4000.0)),
    ("c-saloon", "nodular, thick", (2600.0, 3700.0)),
    ("c-saloon", "steel, drilled", (2600.0, 3700.0)),
]


class Clock(Watch):
    """Only the clock: no extremes."""

    def extremes(self, machine, start, stop, dense):
        pass


def sixty_foot_s(car, rpm):
    """Sixty-foot time, or infinity when the engine stalls."""
    mark = 60.0 * FOOT_M - car.stage_depth_m
    watch = Clock(car, [mark])
    Machine(car, rpm, mark, RTOL, ATOL).run(watch)
    if watch.sixty is None:
        return math.inf
    return watch.sixty[0] - watch.crossed[watch.clock_m][0]


def quickest(car, speeds, times):
    """The curve's minimum, every rival local minimum looked into."""
    best = (math.inf, None)
    for i, time in enumerate(times):
        before = times[i - 1] if i else math.inf
        after = times[i + 1] if i + 1 < len(times) else math.inf
        if time > before or time > after or time > min(times) + RIVAL_S:
            continue
        if time < best[0]:
            best = (time, speeds[i])
        span = (speeds[max(i - 1, 0)], speeds[min(i + 1, len(speeds) - 1)])
        found = minimize_scalar(lambda n: sixty_foot_s(car, n), bounds=span, method="bounded",
                                options={"xatol": 1e-5})
        if found.fun < best[0]:
            best = (found.fun, float(found.x))
    return best


def edge(car, inside, outside, limit_s):
    while abs(outside - inside) > EDGE_RPM:
        middle = 0.5 * (inside + outside)
        if sixty_foot_s(car, middle) <= limit_s:
            inside = middle
        else:
            outside = middle
    cliff = sixty_foot_s(car, outside) - sixty_foot_s(car, inside)
    return {"rpm": 0.5 * (inside + outside), "at": "a jump" if cliff > 1e-4 else "the tolerance"}


def walk(car, start, speeds, times, limit_s):
    inside = start
    for n, time in zip(speeds, times):
        if time > limit_s:
            return edge(car, inside, n, limit_s)
        inside = n
    return {"rpm": inside, "at": "the end of the launch range"}


def scatter(car, centre):
    sd = car.launch_sd_rpm * (car.fitted_crank_side_kg_m2 / car.crank_side_kg_m2) ** car.hold_exponent
    quantiles = norm.ppf((np.arange(DRAWS) + 0.5) / DRAWS)
    speeds = np.clip(centre + sd * quantiles, car.engine.stall_rpm, car.engine.limiter_rpm)
    times = np.array([sixty_foot_s(car, float(n)) for n in speeds])
    stalled = np.isinf(times)
    times[stalled] = STALL_COST_S
    return {
        "launch_rpm": centre,
        "launch_sd_rpm": sd,
        "mean_s": float(times.mean()),
        "sd_s": float(times.std(ddof=1)),
        "sd_population_s": float(times.std()),
        "share_stalled": float(stalled.mean()),
        "lowest_rpm": float(speeds[0]),
        "highest_rpm": float(speeds[-1]),
    }


def study(job):
    case, wheel, centres = job
    car = read_sheet(HERE / "cars" / f"{case}.toml", wheel)
    low, high = (round(n, 9) for n in car.launch_range_rpm)
    speeds = [low + GRID_RPM * i for i in range(math.ceil((high - low) / GRID_RPM - 1e-9))] + [high]
    times = [sixty_foot_s(car, n) for n in speeds]
    best_s, best_rpm = quickest(car, speeds, times)
    limit_s = best_s + car.tolerance_s
    below = [(n, t) for n, t in zip(speeds, times) if n < best_rpm][::-1]
    above = [(n, t) for n, t in zip(speeds, times) if n > best_rpm]
    return {
        "case": case,
        "sheet": f"cars/{case}.toml",
        "wheel": wheel,
        "crank_side_inertia_kg_m2": car.crank_side_kg_m2,
        "tolerance_s": car.tolerance_s,
        "launch_range_rpm": [low, high],
        "quickest": {"launch_rpm": best_rpm, "sixty_foot_s": best_s},
        "window": [
            walk(car, best_rpm, [n for n, _ in below], [t for _, t in below], limit_s),
            walk(car, best_rpm, [n for n, _ in above], [t for _, t in above], limit_s),
        ],
        "scatter": [scatter(car, centre) for centre in centres],
        "curve": [[n, t if math.isfinite(t) else None] for n, t in zip(speeds, times)],
    }


def main():
    with Pool(2) as pool:
        studies = pool.map(study, CASES, chunksize=1)
    head = f"this folder's own implementation: SciPy DOP853, rtol {RTOL:g}, atol {ATOL:g}, to 60 ft"
    lines = ",\n".join(json.dumps(s, ensure_ascii=False) for s in studies)
    (HERE / "study.json").write_text(
        f'{{"made_by": {json.dumps(head)}, "draws": {DRAWS}, "stall_cost_s": {STALL_COST_S}, "studies": [\n{lines}\n]}}\n',
        encoding="utf-8",
    )


if __name__ == "__main__":
    main()
