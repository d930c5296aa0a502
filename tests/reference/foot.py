"""The driver's right foot: a factor on the throttle, and when it moves.

Down (1) to begin with. The tread's slip speed rising through the lift speed
moves it to `to`, falling through half of that moves it back, each after the
reaction time and along a straight line. Nothing is heard while a move is
pending or running; at its end the levels themselves count.
"""

import math

DOWN, EASED = "down", "eased"
AT_REST, PENDING, MOVING = "at rest", "pending", "moving"


class Foot:
    """None of its times lies before first bite; `moves` are (start, from, to)."""

    def __init__(self, lift):
        self.lift = lift
        self.where, self.state = DOWN, AT_REST
        self.next_s = math.inf
        self.share, self.slope, self.since_s = 1.0, 0.0, 0.0
        self.moves = []  # (start, end, share at its end)

    def __call__(self, t):
        return self.share + self.slope * (t - self.since_s)

    def guard(self):
        """Rises through 0 when the foot hears the tyres; None while it does not listen."""
        if self.lift is None or self.state != AT_REST:
            return None
        level = self.lift.at_m_s
        if self.where == DOWN:
            return lambda slip_speed: slip_speed - level
        return lambda slip_speed: 0.5 * level - slip_speed

    def hear(self, t):
        self.state, self.next_s = PENDING, t + self.lift.reaction_s

    def arrive(self, t, slip_speed):
        """What is due at a time the foot had set itself."""
        if self.state == PENDING:
            target = self.lift.to if self.where == DOWN else 1.0
            self.moves.append((t, t + self.lift.over_s, target))
            if self.lift.over_s > 0.0:
                self.slope = (target - self.share) / self.lift.over_s
                self.since_s = t
                self.state, self.next_s = MOVING, t + self.lift.over_s
                return
        self.rest(t, slip_speed)

    def rest(self, t, slip_speed):
        _, _, self.share = self.moves[-1]
        self.slope, self.since_s = 0.0, t
        self.where = DOWN if self.where == EASED else EASED
        self.state, self.next_s = AT_REST, math.inf
        if self.guard()(slip_speed) >= 0.0:
            self.hear(t)

    def lifts_until(self, end_s):
        """Moves away from full throttle begun before a time, and the time off it until then."""
        begun = [move for move in self.moves if move[0] < end_s]
        lifts = [move for move in begun if move[2] < 1.0]
        off = 0.0
        for start, _, _ in lifts:
            back = next((end for s, end, share in begun if s > start and share == 1.0), end_s)
            off += min(back, end_s) - start
        return len(lifts), off
