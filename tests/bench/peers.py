"""Other integrators on the same launch: error against cost, in one run on one machine.

    python3 tests/bench/peers.py [--write]

Needs SciPy, a C compiler, SUNDIALS with its headers (Debian: libsundials-dev), and Cargo. The
launch is one of tests/reference, by the second implementation there. A fine run gives its legs;
then every peer is given those, with their times, and steps through them bare: no event is looked
for, nothing is recorded, no dense output is made. Ours finds its events and its marks as always.

Error is that of the time to 60 ft, against the fine run. Times are the least of several, and only
their ratios mean anything. With --write the table in docs/performance.md and its plot are made
anew.
"""

import math
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(ROOT / "tests" / "reference"))

import numpy as np  # noqa: E402
from scipy.integrate import DOP853, RK45  # noqa: E402

import machine as reference  # noqa: E402
from sheet import read_sheet  # noqa: E402

SHEET = ROOT / "tests" / "reference" / "cars" / "a-hatch.toml"
WHEEL, LAUNCH_RPM = "cast", 3100.0
SIXTY_FOOT_M = 18.288
SCALE = np.array([128.0, 16.0, 1.0, 1.0, 0.0078125, 1024.0, 8192.0])  # as ours scales its states
LONGEST_STEP_S = 0.02
REPEATS = 5


class Seen:
    """Whoever watches the fine run: takes nothing down."""

    def step(self, *_):
        pass

    def shift(self, *_):
        pass

    def lock(self, *_):
        pass


class Recorded(reference.Machine):
    """The reference machine, which takes down its legs."""

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.legs = []

    def segment(self, t, y, end_s, watch):
        kept = (self.mode, self.sign, self.gear, self.ratio, self.driveline_kg_m2, self.e, self.lam, self.shifts)
        start = y.copy()
        end = super().segment(t, y, end_s, watch)
        self.legs.append((t, end[0], kept, start))
        return end


class Bare(reference.Machine):
    """The reference machine's equations without its running integrals, states scaled as ours."""

    def take(self, kept):
        (self.mode, self.sign, self.gear, self.ratio, self.driveline_kg_m2, self.e, self.lam, self.shifts) = kept

    def bare_rates(self, t, z):
        y = [number * scale for number, scale in zip(z.tolist(), SCALE_LIST)]
        return [rate / scale for rate, scale in zip(self.evaluate(t, y).rates, SCALE_LIST)]


SCALE_LIST = SCALE.tolist()


def legs_of(car):
    fine = Recorded(car, LAUNCH_RPM, SIXTY_FOOT_M - car.stage_depth_m, rtol=1e-12, atol=1e-14)
    outcome, end_s, end = fine.run(Seen())
    assert outcome == "finished", outcome
    return fine.legs, end_s, end


def joined(kept, state):
    """Speeds that meet at the start of a locked leg are made equal, as the reference does."""
    mode, _, _, ratio, *_ = kept
    if mode == reference.LOCKED:
        state[0] = ratio * state[1] * SCALE[1] / SCALE[0]
    return state


def by_scipy(solver, car, legs, rtol):
    bare, evaluations = Bare(car, LAUNCH_RPM, 1e9), 0
    state = legs[0][3][:7] / SCALE
    for start_s, end_s, kept, _ in legs:
        bare.take(kept)
        stepper = solver(bare.bare_rates, start_s, joined(kept, state), end_s, rtol=rtol, atol=rtol / 10, max_step=LONGEST_STEP_S)
        while stepper.status == "running":
            stepper.step()
        if stepper.status == "failed":
            return math.nan, 0
        state, evaluations = stepper.y.copy(), evaluations + stepper.nfev
    return state, evaluations


def error_s(state, end):
    """Distance missing at the time of the mark, over the speed there."""
    return abs(state[3] * SCALE[3] - end[3]) / end[2]


def scipy_rows(car, legs, end):
    for name, solver, tolerances in (
        ("SciPy RK45", RK45, (1e-5, 1e-7, 1e-9)),
        ("SciPy DOP853", DOP853, (1e-5, 1e-7, 1e-9)),
    ):
        for rtol in tolerances:
            least = math.inf
            for _ in range(3):
                begun = time.perf_counter()
                state, evaluations = by_scipy(solver, car, legs, rtol)
                least = min(least, time.perf_counter() - begun)
            yield name, rtol, error_s(state, end), evaluations, least * 1e6


def legs_file(car, legs, end):
    """What the C peer reads: the car's numbers, the torque curve, the legs."""
    some = Bare(car, LAUNCH_RPM, 1e9)
    e = car.engine
    numbers = [
        car.radius_m, car.relaxation_m, car.damping_s, car.static_load_n, car.direction, car.weight_n, car.grip,
        car.load_sensitivity, some.c, some.b, car.torque_reaction, car.drag_n_s2_m2, car.rolling_n,
        car.mass_kg + car.undriven_kg_m2 / car.radius_m**2, car.crank_side_kg_m2, car.efficiency, car.transfer,
        car.pitch_s, car.capacity_nm,
        car.fade / car.plate_heat_capacity_j_k / 100.0 if car.fade > 0.0 else 0.0,
        e.stall_rpm, e.limiter_rpm, e.motoring_nm, e.weather_factor, e.torques_nm[0],
        1.0 if car.flat_shift else 0.0,
    ]
    lines = [" ".join(repr(float(n)) for n in numbers), str(len(some.pieces))]
    for knot, piece in zip(some.knots, some.pieces):
        lines.append(" ".join(repr(float(n)) for n in (knot, *piece)))
    lines.append(repr(some.knots[-1]))
    lines.append(str(len(legs)))
    modes = {reference.SLIPPING: 0, reference.LOCKED: 1, reference.OPEN: 2}
    for start_s, end_s, (mode, sign, _, ratio, downstream, opened, lam, shifts), _ in legs:
        row = (start_s, end_s, modes[mode], sign, ratio, downstream, opened.start_s, opened.value, opened.slope,
               lam.start_s, lam.value, lam.slope, float(shifts > 0))
        lines.append(" ".join(repr(float(n)) for n in row))
    lines.append(" ".join(repr(float(n)) for n in legs[0][3][:7]))
    lines.append(" ".join(repr(float(n)) for n in (end[2], end[3])))
    return "\n".join(lines) + "\n"


def cvode_rows(car, legs, end, scratch):
    program, given = Path(scratch) / "cvode_peer", Path(scratch) / "legs.txt"
    given.write_text(legs_file(car, legs, end))
    libraries = ["-lsundials_cvode", "-lsundials_nvecserial", "-lsundials_sunnonlinsolfixedpoint",
                 "-lsundials_sunmatrixdense", "-lsundials_sunlinsoldense", "-lm"]
    subprocess.run(["cc", "-O3", str(HERE / "cvode_peer.c"), "-o", str(program), *libraries], check=True)
    said = subprocess.run([str(program), str(given)], check=True, capture_output=True, text=True).stdout
    for line in said.splitlines():
        name, rtol, error, evaluations, micros = line.rsplit(None, 4)
        yield name, float(rtol), float(error), int(evaluations), float(micros)


def our_rows(true_s):
    said = subprocess.run(
        ["cargo", "bench", "--bench", "counted", "--", "precision", str(SHEET), WHEEL, str(LAUNCH_RPM), repr(true_s)],
        check=True, capture_output=True, text=True, cwd=ROOT,
    ).stdout
    for line in said.splitlines():
        name, rtol, error, evaluations, micros = line.rsplit(None, 4)
        yield name, float(rtol), float(error), int(evaluations), float(micros)


def micros_at(rows, error):
    """Time at an error, on straight lines between the logarithms of what was measured."""
    points = sorted((math.log(max(e, 1e-14)), math.log(t)) for _, _, e, _, t in rows)
    return math.exp(np.interp(math.log(error), *zip(*points)))


def table(rows, unit):
    lines = ["| integrator | relative tolerance | error of the time to 60 ft | evaluations | time, in times of ours at 1e-7 |",
             "| --- | --- | --- | --- | --- |"]
    for name, rtol, error, evaluations, micros in rows:
        lines.append(f"| {name} | {rtol:.0e} | {error:.1e} s | {evaluations} | {micros / unit:.3g} |")
    return "\n".join(lines)


def plot(rows, unit):
    """Error over time, both by powers of ten, as SVG."""
    wide, high, left, low = 720, 420, 70, 360
    times = [math.log10(t / unit) for *_, t in rows]
    errors = [math.log10(max(e, 1e-13)) for _, _, e, _, _ in rows]
    t0, t1 = math.floor(min(times)), math.ceil(max(times))
    e0, e1 = math.floor(min(errors)), math.ceil(max(errors))
    at = lambda t, e: (left + (t - t0) / (t1 - t0) * 420, low - (e - e0) / (e1 - e0) * (low - 40))  # noqa: E731
    colours = ["#0b5", "#246", "#a40", "#808", "#066", "#555"]
    out = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" font-family="sans-serif" font-size="12">',
           f'<rect width="{wide}" height="{high}" fill="#fff"/>']
    for t in range(t0, t1 + 1):
        x, _ = at(t, e0)
        out.append(f'<path d="M{x:.1f} 40V{low}" stroke="#ddd"/><text x="{x:.1f}" y="{low + 18}" text-anchor="middle">{10.0**t:g}</text>')
    for e in range(e0, e1 + 1):
        _, y = at(t0, e)
        out.append(f'<path d="M{left} {y:.1f}H{left + 420}" stroke="#ddd"/><text x="{left - 6}" y="{y + 4:.1f}" text-anchor="end">1e{e}</text>')
    out.append(f'<text x="{left + 210}" y="{low + 40}" text-anchor="middle">time, in times of our short launch at 1e-7</text>')
    out.append(f'<text x="{left}" y="24">error of the time to 60 ft, s</text>')
    for index, name in enumerate(dict.fromkeys(row[0] for row in rows)):
        colour = colours[index % len(colours)]
        points = [at(math.log10(t / unit), math.log10(max(e, 1e-13))) for n, _, e, _, t in rows if n == name]
        path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
        out.append(f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="1.6"/>')
        out += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" fill="{colour}"/>' for x, y in points]
        out.append(f'<text x="{left + 436}" y="{56 + 20 * index}" fill="{colour}">{name}</text>')
    return "\n".join([*out, "</svg>", ""])


def main():
    car = read_sheet(SHEET, WHEEL)
    legs, end_s, end = legs_of(car)
    true_s = end_s  # from first bite: the roll-out clock is the same for all
    with tempfile.TemporaryDirectory() as scratch:
        peers = [*scipy_rows(car, legs, end), *cvode_rows(car, legs, end, scratch)]
    ours = list(our_rows(true_s))
    rows = ours + peers
    unit = next(t for name, rtol, _, _, t in ours if name == "ours" and rtol == 1e-7)
    text = table(rows, unit)
    print(text)
    names = dict.fromkeys(row[0] for row in rows)
    mine = [row for row in rows if row[0] == "ours"]
    sentences = []
    for error in (1e-5, 1e-6, 1e-7):
        ratios = [f"{name} {micros_at([r for r in rows if r[0] == name], error) / micros_at(mine, error):.3g}"
                  for name in names if name != "ours"]
        sentences.append(f"At an error of {error:.0e} s, in times of ours: " + ", ".join(ratios) + ".")
    print("\n".join(sentences))
    if "--write" in sys.argv:
        (ROOT / "docs" / "img" / "work-precision.svg").write_text(plot(rows, unit))
        page = ROOT / "docs" / "performance.md"
        begin, finish = "<!-- peers -->", "<!-- end of peers -->"
        inner = "\n\n".join([begin, text, "\n".join(f"- {s}" for s in sentences), finish])
        page.write_text(re.sub(re.escape(begin) + ".*?" + re.escape(finish), lambda _: inner, page.read_text(), flags=re.S))


if __name__ == "__main__":
    main()
