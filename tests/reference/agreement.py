"""Holds this folder's implementation against the launches of another one.

    python3 agreement.py

Prints the largest difference found; fails above 1e-7 s of sixty-foot time or
1e-6 relative of any other number.
"""

import json
from pathlib import Path

from launch_reference import launch
from launches import numbers
from sheet import read_sheet

HERE = Path(__file__).parent / "cars"
SIXTY_FOOT_S = 1e-7
RELATIVE = 1e-6
HEAD = ("case", "sheet", "wheel", "launch_rpm")


def main():
    worst_s, worst = 0.0, (0.0, "")
    for theirs in json.loads((HERE / "expected.json").read_text(encoding="utf-8"))["launches"]:
        ours, _ = launch(read_sheet(HERE / theirs["sheet"], theirs["wheel"]), theirs["launch_rpm"])
        wanted = dict(numbers({k: v for k, v in theirs.items() if k not in HEAD}))
        found = dict(numbers(ours))
        if wanted.keys() != found.keys():
            raise SystemExit(f"not the same fields: {wanted.keys() ^ found.keys()}")
        worst_s = max(worst_s, abs(ours["sixty_foot_s"] - theirs["sixty_foot_s"]))
        for path, value in wanted.items():
            if isinstance(value, float):
                gap = abs(found[path] - value) / max(abs(value), 1e-9)
                worst = max(worst, (gap, f"{theirs['case']} {theirs['wheel']} {theirs['launch_rpm']:g} {path}"))
            elif value != found[path]:
                raise SystemExit(f"{theirs['case']} {path}: {found[path]} for {value}")
    print(f"sixty-foot time: {worst_s:.1e} s; any other number: {worst[0]:.1e} relative ({worst[1]})")
    if worst_s > SIXTY_FOOT_S or worst[0] > RELATIVE:
        raise SystemExit("they differ")


if __name__ == "__main__":
    main()
