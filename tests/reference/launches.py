"""Writes launches.json: two flywheels and three launch speeds for each invented car.

    python3 launches.py [--log] [--check]    (--check: again at rtol 1e-12 and 1e-6 rpm higher; prints what moves by over 1e-7)
"""

import json
import sys
from multiprocessing import Pool
from pathlib import Path

from launch_reference import launch
from sheet import read_sheet

HERE = Path(__file__).parent
CASES = {
    "a-hatch": (("cast", "steel, thin"), (1800.0, 3100.0, 6100.0)),
    "b-sprint": (("swung", "button"), (6500.0, 9500.0, 10800.0)),
    "c-saloon": (("nodular, thick", "steel, drilled"), (1300.0, 2400.0, 3900.0)),
    "e-fader": (("stock", "turned down"), (3200.0, 5000.0, 6650.0)),
    "f-lifter": (("heavy", "aluminium"), (3000.0, 4600.0, 6400.0)),
    "i-lift": (("truck iron", "steel billet"), (2300.0, 3600.0, 5200.0)),
    "h-tiny": (("plain", "feather"), (1700.0, 4400.0, 6000.0)),
    "k-pickup": (("dual", "solid"), (1000.0, 1900.0, 3300.0)),
    "m-roadster": (("original", "light alloy"), (1700.0, 2600.0, 4200.0)),
    "n-coupe": (("as built", "machined"), (2900.0, 4700.0, 6780.0)),
}


def one(job, rtol=1e-10, atol=1e-12):
    case, wheel, rpm = job
    sheet = f"cars/{case}.toml"
    report, details = launch(read_sheet(HERE / sheet, wheel), rpm, rtol=rtol, atol=atol)
    return {"case": case, "sheet": sheet, "wheel": wheel, "launch_rpm": rpm} | report, details


def fine(job):
    return one(job, 1e-12, 1e-14)


def nudged(job):
    case, wheel, rpm = job
    return one((case, wheel, rpm + 1e-6))


def jobs():
    return [(c, w, n) for c, (wheels, speeds) in CASES.items() for w in wheels for n in speeds]


def numbers(value, path=""):
    """Every number of a report with its place in it."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers(inner, f"{path}.{key}")
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from numbers(inner, f"{path}[{i}]")
    else:
        yield path, value


def show(report, details):
    print(report["case"], report["wheel"], report["launch_rpm"], report["outcome"], report["sixty_foot_s"],
          {k: report[k] for k in ("minimum_rpm", "lock_at_s", "bogged", "touched_limiter", "front_wheels_lifted",
                                  "plate_rise_k", "spin_time_s")},
          {k: v for k, v in details.items() if k != "log"})
    for t, n, x, text in details["log"]:
        print(f"    {t:10.6f} s {n:9.2f} rpm {x:9.3f} m  {text}")


def compare(what, report, other):
    for (path, a), (_, b) in zip(numbers(report), numbers(other)):
        if path == ".launch_rpm":
            continue
        if isinstance(a, float) and not isinstance(a, bool) and b is not None:
            if abs(a - b) > 1e-7 * max(abs(a), 1e-3):
                print("    differs", what, path, a, b)
        elif a != b:
            print("    differs", what, path, a, b)


def main():
    with Pool(2) as pool:
        results = pool.map(one, jobs(), chunksize=1)
        if "--check" in sys.argv:
            refined = pool.map(fine, jobs(), chunksize=1)
            shifted = pool.map(nudged, jobs(), chunksize=1)
            for (report, _), (fine_report, _), (shifted_report, _) in zip(results, refined, shifted):
                print(report["case"], report["wheel"], report["launch_rpm"])
                compare("at finer tolerance", report, fine_report)
                compare("at 1e-6 rpm more", report, shifted_report)
    if "--log" in sys.argv:
        for report, details in results:
            show(report, details)
    made_by = "this folder's own implementation: SciPy DOP853, rtol 1e-10, atol 1e-12, marks to 1320 ft"
    lines = ",\n".join(json.dumps(report, ensure_ascii=False) for report, _ in results)
    text = f'{{"made_by": {json.dumps(made_by)}, "launches": [\n{lines}\n]}}\n'
    (HERE / "launches.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
