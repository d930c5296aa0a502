"""The launch as a hybrid machine: equations of motion, modes and events.

Integrated with SciPy's DOP853, restarted at every event and at every known
corner of the engagement e(t) and the throttle lambda(t). Events are looked
for on the integrator's dense output, several points a step, then root-found.
"""

import math
from bisect import bisect_right
from types import SimpleNamespace

import numpy as np
from scipy.integrate import DOP853
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from foot import Foot

RPM = math.pi / 30.0
LIMITER_FADE_RPM = 100.0
TIMEOUT_S = 60.0
LONGEST_STEP_S = 0.02  # bounds what an event search can miss
INNER_POINTS = np.array([0.0, 0.25, 0.5, 0.75, 1.0])
ROOT_TOLERANCE_S = 1e-14

# the state: seven of the model, then running integrals for the account
(ENGINE, WHEEL, SPEED, PLACE, TREAD, TRANSFER, HEAT, WORK, LOSS, TYRE, DRAG, ROLLING) = range(12)
SLIPPING, LOCKED, OPEN = "slipping", "locked", "open"


def shape_factor(peak_slip, sliding_share):
    """C in (1, 2] with sin(C atan(B)) equal to the sliding share at slip 1."""

    def excess(c):
        return math.sin(c * math.atan(math.tan(math.pi / (2.0 * c)) / peak_slip)) - sliding_share

    return brentq(excess, 1.0 + 1e-9, 2.0, xtol=1e-15)


class Line:
    """One straight piece of a (time, share) table."""

    def __init__(self, table, start_s, end_s, after):
        times = [t for t, _ in table]
        middle = 0.5 * (start_s + end_s)
        i = bisect_right(times, middle)
        self.start_s, self.slope = start_s, 0.0
        if i == 0:
            self.value = table[0][1]
        elif i == len(table):
            self.value = table[-1][1] if after is None else after
        else:
            (ta, va), (tb, vb) = table[i - 1], table[i]
            self.slope = (vb - va) / (tb - ta)
            self.value = va + self.slope * (start_s - ta)
            # a piece that starts on a point starts on its share exactly
            if start_s == ta:
                self.value = va

    def __call__(self, time_s):
        return self.value + self.slope * (time_s - self.start_s)

    @property
    def full(self):
        return self.slope == 0.0 and self.value >= 1.0


class Machine:
    def __init__(self, car, launch_rpm, last_mark_m, rtol=1e-10, atol=1e-12):
        self.car, self.launch_rpm, self.last_mark_m = car, launch_rpm, last_mark_m
        self.rtol, self.atol = rtol, atol
        engine = car.engine
        self.curve = PchipInterpolator(engine.speeds_rpm, engine.torques_nm)
        self.knots = [float(x) for x in self.curve.x]
        self.pieces = [tuple(float(c) for c in column) for column in self.curve.c.T]
        self.c = shape_factor(car.peak_slip, car.sliding_share)
        self.b = math.tan(math.pi / (2.0 * self.c)) / car.peak_slip
        self.gear = 0
        self.mode, self.sign = SLIPPING, 1.0
        self.shifts = 0  # 0: the launch itself; then gears changed so far
        self.release, self.throttle = list(car.release), list(car.throttle)
        self.foot = Foot(car.lift)
        self.psi = lambda t: 1.0
        self.log = []

    # -- engine -----------------------------------------------------------
    def curve_nm(self, n):
        e = self.car.engine
        if n < self.knots[0]:
            return e.torques_nm[0] * max(0.0, (n - e.stall_rpm) / (self.knots[0] - e.stall_rpm))
        i = min(bisect_right(self.knots, n), len(self.knots) - 1) - 1
        d = n - self.knots[i]
        c3, c2, c1, c0 = self.pieces[i]
        return ((c3 * d + c2) * d + c1) * d + c0

    def full_throttle_nm(self, n):
        e = self.car.engine
        s = min(max((e.limiter_rpm - n) / LIMITER_FADE_RPM, 0.0), 1.0)
        if s == 0.0:
            return -e.motoring_nm
        return s * e.weather_factor * self.curve_nm(n) - (1.0 - s) * e.motoring_nm

    def engine_nm(self, t, engine_rad_s):
        motoring = self.car.engine.motoring_nm
        if self.mode == OPEN and not self.car.flat_shift:
            return -motoring
        full = self.full_throttle_nm(engine_rad_s / RPM)
        psi = self.psi(t)
        full = psi * full - (1.0 - psi) * motoring
        if self.mode == OPEN:
            return full
        share = self.lam(t)
        return share * full - (1.0 - share) * motoring * (self.shifts > 0)

    # -- clutch -----------------------------------------------------------
    def kinetic_nm(self, t, heat_j):
        car, fade = self.car, 1.0
        if car.fade > 0.0:
            fade = max(0.3, 1.0 - car.fade * heat_j / car.plate_heat_capacity_j_k / 100.0)
        return self.e(t) * car.capacity_nm * fade

    # -- car, tyre, driveline ---------------------------------------------
    def set_gear(self):
        car = self.car
        self.ratio = car.ratios[self.gear] * car.final
        self.driveline_kg_m2 = (
            car.wheels_kg_m2 + car.efficiency * self.ratio**2 * car.gearbox_side_kg_m2
        )

    def evaluate(self, t, y):
        """Every quantity of the equations at one instant."""
        car = self.car
        we, ww, v, u = y[ENGINE], y[WHEEL], y[SPEED], y[TREAD]
        rim = car.radius_m * ww
        vs = rim - v
        du = vs - max(abs(v), abs(rim)) * u / car.relaxation_m
        slip = (u + car.damping_s * du) / car.relaxation_m
        load = car.static_load_n + car.direction * y[TRANSFER]
        load = min(max(load, 0.05 * car.weight_n), car.weight_n)
        peak = car.grip * max(0.3, 1.0 - car.load_sensitivity * (load / car.static_load_n - 1.0))
        share = peak * math.sin(self.c * math.atan(self.b * slip))
        force = share * load / (1.0 + abs(share) * car.torque_reaction)
        drag = car.drag_n_s2_m2 * v * v
        rolling = car.rolling_n * min(max(v / 0.1, -1.0), 1.0)
        dv = (force - drag - rolling) / (car.mass_kg + car.undriven_kg_m2 / car.radius_m**2)
        engine = self.engine_nm(t, we)
        g, jd, je, eta = self.ratio, self.driveline_kg_m2, car.crank_side_kg_m2, car.efficiency
        load_nm = force * car.radius_m
        if self.mode == OPEN:
            clutch, eff = 0.0, eta
            dwe, dww = engine / je, -load_nm / jd
        elif self.mode == SLIPPING:
            clutch = self.sign * self.kinetic_nm(t, y[HEAT])
            eff = eta if clutch >= 0.0 else 1.0 / eta
            dwe, dww = (engine - clutch) / je, (eff * g * clutch - load_nm) / jd
        else:
            eff = eta if engine * jd + je * g * load_nm >= 0.0 else 1.0 / eta
            dww = (eff * g * engine - load_nm) / (jd + eff * g * g * je)
            dwe = g * dww
            clutch = engine - je * dwe
        heat = clutch * (we - g * ww) if self.mode == SLIPPING else 0.0
        return SimpleNamespace(
            rates=[
                dwe, dww, dv, v, du, (car.transfer * dv - y[TRANSFER]) / car.pitch_s, heat,
                engine * we, (1.0 - eff) * clutch * g * ww, force * vs, drag * v, rolling * v,
            ],
            slip=slip, clutch_nm=clutch, acceleration_m_s2=dv,
        )

    def rates(self, t, y):
        return self.evaluate(t, y.tolist()).rates

    def locked_excess_nm(self, t, y):
        """Locked |Tc| - Ts and Tc, were the clutch locked now."""
        mode, self.mode = self.mode, LOCKED
        torque = self.evaluate(t, y).clutch_nm
        self.mode = mode
        return abs(torque) - self.car.static_ratio * self.kinetic_nm(t, y[HEAT]), torque

    # -- segments and events ------------------------------------------------
    def corners(self, t):
        times = [s for s, _ in self.release] + [s for s, _ in self.throttle]
        if self.mode == OPEN:
            times = [self.shift_end_s]
        times.append(self.foot.next_s)
        return min([s for s in times if s > t] + [TIMEOUT_S])

    def set_schedules(self, t, end_s):
        self.e = Line(self.release, t, end_s, 1.0)
        self.lam = Line(self.throttle, t, end_s, 1.0 if self.shifts else None)
        share, slope, since_s = self.foot.share, self.foot.slope, self.foot.since_s
        self.psi = lambda s: share + slope * (s - since_s)

    def slip_speed(self, y):
        return self.car.radius_m * y[WHEEL] - y[SPEED]

    def settle(self, t, y, event):
        """Mode changes that are due at the start of a segment."""
        slip = y[ENGINE] - self.ratio * y[WHEEL]
        if self.mode == LOCKED:
            excess, torque = self.locked_excess_nm(t, y)
            if excess > 0.0:
                self.note(t, y, "lets go")
                self.mode, self.sign = SLIPPING, math.copysign(1.0, torque)
        # the root found may lie a rounding error short of the speed: the event itself counts
        due = event == "shift" or self.ratio * y[WHEEL] >= self.car.shift_at_rad_s
        if self.mode != OPEN and self.may_shift() and due:
            self.note(t, y, f"shift, {self.mode}, slip {slip / RPM:.1f} rpm")
            self.mode = OPEN
            self.shift_end_s = t + self.car.shift_time_s
            return True
        return False

    def may_shift(self):
        return self.e.full and self.gear + 1 < len(self.car.ratios)

    def note(self, t, y, text):
        self.log.append((t, y[ENGINE] / RPM, y[PLACE], text))

    def guards(self):
        """Ending events of this segment: name -> function, each rising through 0."""
        stall = self.car.engine.stall_rpm * RPM
        found = {
            "stall": lambda t, y: stall - y[ENGINE],
            "end": lambda t, y: y[PLACE] - self.last_mark_m,
        }
        if self.mode == SLIPPING:
            found["slip"] = lambda t, y: self.sign * (self.ratio * y[WHEEL] - y[ENGINE])
        if self.mode == LOCKED:
            found["let go"] = lambda t, y: self.locked_excess_nm(t, y)[0]
        heard = self.foot.guard()
        if heard is not None:
            found["foot"] = lambda t, y: heard(self.slip_speed(y))
        if self.mode != OPEN and self.may_shift():
            found["shift"] = lambda t, y: self.ratio * y[WHEEL] - self.car.shift_at_rad_s
        return found

    def run(self, watch):
        """Integrates to the end; `watch(machine, start, end, dense)` sees each step."""
        t, y, event = 0.0, np.zeros(12), None
        y[ENGINE] = self.launch_rpm * RPM
        self.set_gear()
        while True:
            end_s = self.corners(t)
            self.set_schedules(t, end_s)
            if self.settle(t, y, event):
                watch.shift(t)
                event = None
                continue
            t, y, event = self.segment(t, y, end_s, watch)
            if event == "end":
                return "finished", t, y
            if event == "stall":
                self.note(t, y, "stalled")
                return "stalled", t, y
            if event is None and t >= self.foot.next_s:
                self.foot.arrive(t, self.slip_speed(y))
                self.note(t, y, f"foot {self.foot.state}, {self.foot.where}")
            if event == "foot":
                self.foot.hear(t)
                self.note(t, y, "foot hears the tyres")
            elif event == "slip":
                self.cross(t, y, watch)
            elif event == "let go":
                torque = self.locked_excess_nm(t, y)[1]
                self.note(t, y, "breaks away")
                self.mode, self.sign = SLIPPING, math.copysign(1.0, torque)
            elif event is None and t >= TIMEOUT_S:
                self.note(t, y, "did not finish")
                return "did not finish", t, y
            elif event is None and self.mode == OPEN and t >= self.shift_end_s:
                self.engage(t, y)

    def cross(self, t, y, watch):
        y[ENGINE] = self.ratio * y[WHEEL]
        excess, torque = self.locked_excess_nm(t, y)
        if excess <= 0.0:
            self.mode = LOCKED
            self.note(t, y, "locks")
            watch.lock(t, y)
        else:
            self.sign = math.copysign(1.0, torque)
            self.note(t, y, f"slip crosses zero, goes on as {self.sign:+.0f}")

    def engage(self, t, y):
        car, old = self.car, self.ratio
        self.gear += 1
        self.shifts += 1
        self.set_gear()
        lost = car.efficiency * car.gearbox_side_kg_m2 * (old**2 - self.ratio**2) * y[WHEEL] ** 2 / 2.0
        y[LOSS] += lost
        self.release = [(t, 0.0), (t + car.shift_engage_s, 1.0)]
        self.throttle = [(t, 1.0)] if car.flat_shift else [(t, 0.0), (t + car.shift_throttle_s, 1.0)]
        slip = y[ENGINE] - self.ratio * y[WHEEL]
        self.mode, self.sign = SLIPPING, math.copysign(1.0, slip)
        self.note(t, y, f"gear {self.gear + 1} bites, slip {slip / RPM:.1f} rpm")

    def segment(self, t, y, end_s, watch):
        guards = self.guards()
        armed = {name: g(t, y.tolist()) < 0.0 for name, g in guards.items()}
        solver = DOP853(self.rates, t, y, end_s, rtol=self.rtol, atol=self.atol, max_step=LONGEST_STEP_S)
        while solver.status == "running":
            solver.step()
            if solver.status == "failed":
                raise RuntimeError(f"step failed in {self.mode} at {solver.t} s")
            dense = solver.dense_output()
            times = solver.t_old + (solver.t - solver.t_old) * INNER_POINTS
            states = dense(times).T
            first = self.first_event(guards, armed, times, states, dense)
            if first is None:
                watch.step(self, solver.t_old, solver.t, dense)
                continue
            when, name = first
            watch.step(self, solver.t_old, when, dense)
            return when, dense(when), name
        return solver.t, solver.y.copy(), None

    def first_event(self, guards, armed, times, states, dense):
        first = None
        for name, guard in guards.items():
            before = None
            for time_s, state in zip(times, states.tolist()):
                value = guard(time_s, state)
                if value >= 0.0 and armed[name] and before is not None:
                    root = brentq(lambda s: guard(s, dense(s).tolist()), before, time_s, xtol=ROOT_TOLERANCE_S)
                    if first is None or root < first[0]:
                        first = (root, name)
                    break
                if value < 0.0:
                    armed[name] = True
                    before = time_s
                elif value > 1e-6 and not armed[name]:
                    raise RuntimeError(f"{name} left zero on the wrong side at {time_s} s")
        return first
