"""Supplies drawn from circuit equations, with their truth: a second mind beside the simulator.

Nothing of the project is read here. Each record is a circuit (sources, wires, contacts, a machine
that draws by its own law) solved on a grid of quarter cycles and written out sample by sample.

    python3 drawn_supplies.py SEED COUNT [CLASS ...]     records to stdout, one after another
    python3 drawn_supplies.py --classes                  their names, a line each

A record is a line of JSON (class, rate, pairs, frames, plate, circuit, truth) and then frames x
2*pairs little-endian float32, v1 i1 v2 i2 ..., NaN where a sample was lost.

Truth: `worst` is the lowest voltage that the machine would have at its plate's I1max in any state
that the supply was in while arcs burned, `needs` nine tenths of U1. `never` lists the verdicts
that would be false. Ranges are those of workshop wiring (a few tens of milliohms to two ohms, 0 to
60 % third harmonic, mains within 0.05 Hz, drift of a volt within seconds); from memory.
"""

import json
import sys

import numpy as np

WEAK = ["adequate"]
HEALTHY = ["underpowered", "unsuited"]


class Draw:
    """One record in the making: time, arcs, the machine's demand and the slow walk of the source."""

    def __init__(self, rng, plate_volts=None, amps=None, phases=1, hertz=None, arcs=None):
        self.rng = rng
        self.hertz = hertz or (60.0 if rng.random() < 0.75 else 50.0)
        self.rate = float(rng.choice([2560, 2560, 5120, 10240]))
        if plate_volts is None:
            plate_volts = 240 if self.hertz == 60 else 230
        self.u1 = plate_volts
        self.i1max = amps or float(rng.integers(18, 40) if plate_volts >= 200 else rng.integers(15, 25))
        self.phases = phases
        self.needs = 0.9 * plate_volts
        self.law = str(rng.choice(["power", "power", "current", "impedance"]))
        self.share = rng.uniform(0.3, 1.0)
        count = arcs or int(rng.integers(3, 6))
        at = rng.uniform(1.6, 2.6)
        self.spans = []
        for _ in range(count):
            length = rng.uniform(1.0, 3.0)
            self.spans.append((at, at + length))
            at += length + rng.uniform(1.0, 2.2)
        self.seconds = at + 0.4
        self.dither = rng.uniform(0.02, 0.15)
        self.idle_amps = rng.uniform(0.08, 0.5)
        self.lag = rng.uniform(-0.05, 0.35)
        self.walk_volts = rng.choice([0.0, 0.01, 0.02, 0.04])
        self.flutter = rng.uniform(0.0, 0.05)
        self.grid()
        self.shape()

    # time ------------------------------------------------------------------------------------
    def grid(self):
        self.frames = int(self.seconds * self.rate)
        self.t = np.arange(self.frames) / self.rate
        self.g = np.arange(0, self.seconds + 0.01, 0.25 / self.hertz)
        wander = np.cumsum(self.rng.normal(0, 2e-4, self.g.size))
        self.g_hertz = self.hertz + self.rng.uniform(-0.03, 0.03) + wander - wander.mean()

    def burning(self, at, rise=0.008):
        """0 to 1: how far each arc has risen at the times `at`."""
        on = np.zeros_like(at)
        for start, end in self.spans:
            on = np.maximum(on, np.clip((at - start) / rise, 0, 1) * np.clip((end - at) / rise, 0, 1))
        return on

    def shape(self):
        """The current's harmonics, of unit true r.m.s. altogether."""
        rng = self.rng
        if self.phases == 3:
            orders = {5: rng.uniform(0.05, 0.45), 7: rng.uniform(0.03, 0.25), 11: rng.uniform(0, 0.08)}
        elif self.law == "impedance":
            orders = {3: rng.uniform(0, 0.12), 5: rng.uniform(0, 0.05)}
        else:
            third = rng.uniform(0.0, 0.65)
            orders = {3: third, 5: third * rng.uniform(0.2, 0.6), 7: third * rng.uniform(0, 0.3)}
        self.fundamental = 1 / np.sqrt(1 + sum(a * a for a in orders.values()))
        self.orders = [(1, 1.0, -self.lag)] + [
            (k, a, rng.uniform(-0.4, 0.4) + (np.pi if k % 4 == 3 else 0)) for k, a in orders.items()
        ]

    def demand(self):
        """What the arc asks for on the grid, as a part of I1max: setting, wander, flutter."""
        rng = self.rng
        slow = np.cumsum(rng.normal(0, 1, self.g.size))
        slow = (slow - slow.mean()) / max(1.0, np.abs(slow).max()) * rng.uniform(0.01, 0.06)
        fast = rng.normal(0, self.flutter, self.g.size)
        return self.share * (1 + slow + fast)

    def source(self, volts):
        """Open-circuit volts on the grid: the walk of a mains, `walk_volts` a half cycle."""
        walk = np.cumsum(self.rng.normal(0, self.walk_volts / np.sqrt(2), self.g.size))
        return volts * (1 + (walk - walk[0]) / volts)

    # electricity -----------------------------------------------------------------------------
    def solve(self, e, r, x, factor=1.0):
        """Amperes (true r.m.s.) on the grid. `factor`: loop ohms seen by one line's current."""
        part = self.demand() * self.burning(self.g)
        wanted = part * self.i1max
        amps = wanted.copy()
        for _ in range(40):
            volts = self.drop(e, r * factor, x * factor, amps)
            if self.law == "power":
                target = wanted * self.u1 / np.maximum(volts, 0.3 * self.u1)
            elif self.law == "impedance":
                target = wanted * volts / self.u1
            else:
                target = wanted
            amps = 0.5 * amps + 0.5 * target
        return amps

    def drop(self, e, r, x, amps):
        """True r.m.s. volts left of e behind r + jx at `amps` true r.m.s.: the fundamental, and
        what the current's own harmonics make of r + jkx."""
        a = amps * self.fundamental
        along = e - a * (r * np.cos(self.lag) + x * np.sin(self.lag))
        across = a * (x * np.cos(self.lag) - r * np.sin(self.lag))
        squares = along ** 2 + across ** 2
        for k, part, _ in self.orders[1:]:
            squares = squares + (a * part) ** 2 * (r ** 2 + (k * x) ** 2)
        return np.sqrt(squares)

    def worst(self, e, r, x, factor=1.0):
        """Lowest volts at I1max in any state met while arcs burned."""
        volts = self.drop(np.asarray(e), np.asarray(r) * factor, np.asarray(x) * factor, self.i1max)
        volts = np.broadcast_to(volts, self.g.shape)
        return float(np.percentile(volts[self.burning(self.g) > 0.9], 2))

    def angle(self):
        cycles = np.concatenate([[0], np.cumsum(0.5 * (self.g_hertz[1:] + self.g_hertz[:-1]) * np.diff(self.g))])
        return 2 * np.pi * self.up(cycles) + 0.3

    def up(self, grid):
        return np.interp(self.t, self.g, np.broadcast_to(grid, self.g.shape))

    def current(self, amps, theta):
        """i and L-free di/dtheta of a line whose voltage stands at `theta`."""
        size = np.sqrt(2) * self.up(amps) * self.fundamental
        i = np.zeros(self.frames)
        slope = np.zeros(self.frames)
        for k, part, phase in self.orders:
            i += part * np.sin(k * theta + phase)
            slope += part * k * np.cos(k * theta + phase)
        idle = np.sqrt(2) * self.idle_amps
        return (
            size * i + idle * np.sin(theta - 0.6),
            size * slope + idle * np.cos(theta - 0.6),
        )

    def emf(self, volts, theta):
        """A source's wave: a sine with the few per cent that a town's rectifiers leave on it."""
        if not hasattr(self, "town"):
            self.town = [(3, self.rng.uniform(0, 0.01), 0.4), (5, self.rng.uniform(0, 0.025), 1.1),
                         (7, self.rng.uniform(0, 0.012), 2.0)]
        wave = np.sin(theta)
        for k, part, phase in self.town:
            wave = wave + part * np.sin(k * theta + phase)
        scale = 1 / np.sqrt(1 + sum(p * p for _, p, _ in self.town))
        return np.sqrt(2) * self.up(volts) * wave * scale

    def noisy(self, channel, sd):
        return channel + self.rng.normal(0, sd, channel.size)

    def volts_channel(self, v, full=None, bits=16):
        full = full or 2.2 * np.sqrt(2) * max(120.0, np.sqrt(np.mean(v * v)))
        return quantised(self.noisy(v, self.dither), full, bits)

    def amps_channel(self, i, full=None, bits=16):
        full = full or max(80.0, 5.0 * self.i1max)
        return quantised(self.noisy(i, 0.02 + 0.001 * self.i1max), full, bits)

    # what is handed over ---------------------------------------------------------------------
    def plate(self):
        return {
            "name": "drawn", "phases": self.phases, "hertz": [int(self.hertz)],
            "supply": [{"U1": self.u1, "I1max": self.i1max, "I1eff": round(0.55 * self.i1max, 1)}],
            "ratings": [{"X": 0.3, "I2": round(6 * self.i1max), "U2": 24}],
        }

    def circuit(self, volts, phases=None, dedicated=True):
        amps = next(a for a in (20, 30, 40, 50, 60, 80, 100) if a >= self.i1max)
        return {
            "name": "drawn", "volts": volts, "phases": phases or self.phases,
            "breakerAmps": amps, "receptacleAmps": amps, "dedicated": dedicated,
            "branch": {"awg": 4, "metal": "copper", "feet": 40}, "cords": [], "sensorAt": "machine",
        }


def quantised(channel, full, bits):
    step = full / (2 ** (bits - 1) - 1)
    top = 2 ** (bits - 1) - 1
    return np.clip(np.round(channel / step), -top, top) * step


def record(d, channels, never, worst, why, circuit=None, machine=None):
    return {
        "rate": d.rate, "pairs": len(channels) // 2, "frames": d.frames, "plate": d.plate(),
        "circuit": circuit, "hertz": d.hertz, "never": never, "worst": worst, "needs": d.needs,
        "why": why, "law": d.law,
    }, channels


def loop_for(d, target, open_volts, angle_share=None):
    """R and X that leave `target` volts at I1max."""
    q = d.rng.uniform(0.0, 0.5) if angle_share is None else angle_share
    # Beyond half the volts in the wire no arc burns, and the sum of phasors rises again.
    lo, hi = 0.0, 0.5 * open_volts / d.i1max
    for _ in range(60):
        r = (lo + hi) / 2
        if d.drop(open_volts, r, q * r, d.i1max) > target:
            lo = r
        else:
            hi = r
    return lo, q * lo


def single(d, e, r, x, bits=16):
    """One pair: samples of volts and amperes at the machine."""
    amps = d.solve(e, r, x)
    theta = d.angle()
    i, slope = d.current(amps, theta)
    r_t, x_t = d.up(r), d.up(x)
    v = d.emf(e, theta) - r_t * i - x_t * slope
    return v, i


def pair_of(d, v, i, bits=16):
    return [d.volts_channel(v, bits=bits), d.amps_channel(i, bits=bits)]


def under(d, low=0.86, high=0.985):
    """A target under the need: from hopeless to a hair under it."""
    return d.needs * d.rng.uniform(low, high)


def over(d, open_volts, low=1.015):
    return d.rng.uniform(d.needs * low, min(open_volts * 0.985, d.needs * 1.09))


def some_circuit(d, volts, dedicated=True):
    return d.circuit(volts, dedicated=dedicated) if d.rng.random() < 0.5 else None


def weak_welds(d, low, high, *part):
    """Beads at one pair whose wire leaves a part of the need, on `low` to `high` of U1 open."""
    open_volts = d.u1 * d.rng.uniform(low, high)
    r, x = loop_for(d, under(d, *part), open_volts)
    e = d.source(open_volts)
    return e, r, x, *single(d, e, r, x)


def good_loop(d, open_volts):
    return loop_for(d, open_volts * d.rng.uniform(0.96, 0.99), open_volts)


def good_welds(d, low, high):
    """The same behind a heavy wire."""
    open_volts = d.u1 * d.rng.uniform(low, high)
    r, x = good_loop(d, open_volts)
    e = d.source(open_volts)
    return e, r, x, *single(d, e, r, x)


# classes -------------------------------------------------------------------------------------
def weak_steady(rng):
    """Too much wire, whatever the machine's law."""
    d = Draw(rng, *([120] if rng.random() < 0.3 else []))
    e, r, x, v, i = weak_welds(d, 0.97, 1.03)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "thin or long wire", some_circuit(d, d.u1))


def weak_drifting(rng):
    """The same on a supply that walks by volts."""
    d = Draw(rng)
    d.walk_volts = rng.uniform(0.05, 0.1)
    e, r, x, v, i = weak_welds(d, 0.98, 1.03, 0.84, 0.95)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "weak and walking", some_circuit(d, d.u1))


def weak_light_bead(rng):
    """Light beads over a circuit that full load would pull down."""
    d = Draw(rng)
    d.share = rng.uniform(0.15, 0.5)
    e, r, x, v, i = weak_welds(d, 0.98, 1.03, 0.86, 0.97)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "light beads", some_circuit(d, d.u1))


def connection_fails_between(rng):
    """A contact lets go between two arcs."""
    d = Draw(rng, arcs=int(rng.integers(4, 7)))
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    good = rng.uniform(0.04, 0.15)
    bad, x = loop_for(d, under(d, 0.84, 0.965), open_volts, rng.uniform(0, 0.1))
    first_bad = rng.integers(max(1, len(d.spans) - 2), len(d.spans))
    since = d.spans[first_bad][0] - 0.4
    r = np.where(d.g < since, good, bad)
    e = d.source(open_volts)
    v, i = single(d, e, r, x * 0 + 0.02)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, 0.02), "fails between arcs", some_circuit(d, d.u1))


def contact_heats_within(rng):
    """A contact whose resistance rises while the arc burns and falls back after it."""
    d = Draw(rng, arcs=int(rng.integers(3, 5)))
    d.spans = [(a, a + max(1.6, b - a)) for a, b in d.spans]
    spans, at = [], 2.0
    for a, b in d.spans:
        spans.append((at, at + b - a))
        at += b - a + rng.uniform(1.2, 2.2)
    d.spans, d.seconds = spans, at + 0.4
    d.grid()
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    cold = rng.uniform(0.05, 0.15)
    hot, x = loop_for(d, under(d, 0.85, 0.97), open_volts, 0.05)
    tau = rng.uniform(0.4, 1.5)
    warm = np.zeros_like(d.g)
    on = d.burning(d.g)
    for k in range(1, d.g.size):
        step = d.g[k] - d.g[k - 1]
        aim, speed = (1.0, tau) if on[k] > 0.5 else (0.0, tau)
        warm[k] = warm[k - 1] + (aim - warm[k - 1]) * step / speed
    r = cold + (hot - cold) * warm / max(0.5, warm.max())
    e = d.source(open_volts)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "heats within arcs", some_circuit(d, d.u1))


def generator(d, open_volts, dip, droop_hertz, r, x, tau_v, tau_f):
    """E and frequency answer the load: voltage regulator and governor, each with a lag."""
    on = d.burning(d.g)
    e = np.empty_like(d.g)
    f = np.empty_like(d.g)
    level_e, level_f, trim = 0.0, 0.0, 0.0
    for k in range(d.g.size):
        step = 0.25 / d.hertz
        level_e += (on[k] * dip - level_e) * step / 0.06
        trim += (level_e * 0.75 - trim) * step / tau_v
        level_f += (on[k] * droop_hertz - level_f) * step / tau_f
        e[k] = open_volts - level_e + trim
        f[k] = level_f
    d.g_hertz = d.hertz + d.rng.uniform(0.2, 0.8) - f
    return e


def weak_generator(rng):
    """A small set with a governor that lags: no fixed E, R or X."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.04)
    r = rng.uniform(0.4, 1.2)
    x = rng.uniform(0.2, 0.9)
    dip = rng.uniform(2, 16)
    e = generator(d, open_volts, dip, rng.uniform(0.5, 2.2), r, x, rng.uniform(0.2, 1.5), rng.uniform(0.2, 1.2))
    v, i = single(d, e, r, x)
    worst = d.worst(e, r, x)
    never = WEAK if worst < d.needs else []
    return record(d, pair_of(d, v, i), never, worst, "weak, slow generator")


def recovers_after(rng):
    """The town's voltage is low while the arcs burn and comes back after the last one."""
    d = Draw(rng)
    high = d.u1 * rng.uniform(1.0, 1.04)
    low = high * rng.uniform(0.9, 0.95)
    r, x = loop_for(d, under(d, 0.93, 0.985), low)
    end = d.spans[-1][1]
    d.seconds = end + rng.uniform(2.0, 4.0)
    d.grid()
    e = np.interp(d.g, [end + 0.3, end + 0.9], [low, high]) * (d.source(1.0) * 0 + 1)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "recovers after the arcs")


def low_in_the_middle(rng):
    """Low for one arc of several only."""
    d = Draw(rng, arcs=int(rng.integers(4, 6)))
    high = d.u1 * rng.uniform(1.0, 1.03)
    r = rng.uniform(0.05, 0.25)
    x = 0.03
    which = int(rng.integers(0, len(d.spans)))
    a, b = d.spans[which]
    low = high
    while d.drop(low, r, x, d.i1max) > d.needs * 0.975:
        low -= 0.5
    e = np.interp(d.g, [a - 0.6, a - 0.4, b + 0.4, b + 0.6], [high, low, low, high])
    d.share = max(d.share, 0.8)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "low during one arc")


def clipped_voltage(rng):
    """The voltage input runs into its end: the crest, and with it the drop, is cut off."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    r, x = loop_for(d, under(d, 0.88, 0.975), open_volts)
    e = d.source(open_volts)
    v, i = single(d, e, r, x)
    full = np.sqrt(2) * open_volts * rng.uniform(0.88, 0.97)
    return record(d, [d.volts_channel(v, full), d.amps_channel(i)], WEAK, d.worst(e, r, x), "clipped volts")


def clipped_current(rng):
    """The current input runs into its end over a weak supply."""
    d = Draw(rng)
    e, r, x, v, i = weak_welds(d, 0.99, 1.03)
    full = np.max(np.abs(i)) * rng.uniform(0.4, 0.8)
    return record(d, [d.volts_channel(v), d.amps_channel(i, full)], WEAK, d.worst(e, r, x), "clipped amperes")


def current_scale_large(rng):
    """A transformer's ratio typed in wrong: amperes several times too many, R too small by that."""
    d = Draw(rng)
    # A reading that stays within what the plate allows would look like any other.
    d.share = rng.uniform(0.6, 1.0)
    e, r, x, v, i = weak_welds(d, 0.99, 1.03, 0.86, 0.97)
    times = rng.uniform(3.0, 6.0)
    return record(d, [d.volts_channel(v), d.amps_channel(i * times, 2000)], WEAK, d.worst(e, r, x), f"amperes x {times:.1f}", some_circuit(d, d.u1))


def reversed_current(rng):
    """The current sensor the wrong way round, over a weak supply."""
    d = Draw(rng)
    e, r, x, v, i = weak_welds(d, 0.99, 1.03)
    return record(d, pair_of(d, v, -i), WEAK, d.worst(e, r, x), "reversed current sensor")


def one_tack(rng):
    """One tack at a quarter of the current; the contact would be hot at full load."""
    d = Draw(rng, arcs=1)
    a = d.spans[0][0]
    d.spans = [(a, a + rng.uniform(0.15, 0.4))]
    d.seconds = a + 2.2
    d.grid()
    d.share = rng.uniform(0.2, 0.35)
    open_volts = d.u1 * rng.uniform(1.0, 1.02)
    cold = rng.uniform(0.05, 0.12)
    hot, x = loop_for(d, under(d, 0.9, 0.97), open_volts, 0.05)
    e = d.source(open_volts)
    v, i = single(d, e, cold, 0.02)
    return record(d, pair_of(d, v, i), WEAK, float(d.drop(open_volts, hot, x, d.i1max)), "one tack proves nothing")


def two_legs(d, delta, e1, e2, r1, x1, lead=None):
    """Two pairs to neutral and a machine between the hots."""
    theta = d.angle()
    e12 = np.sqrt(e1 ** 2 + e2 ** 2 - 2 * e1 * e2 * np.cos(delta))
    amps = d.solve(e12, 2 * r1, 2 * x1)
    # where e12 stands: the angle of e1 - e2*exp(-j delta)
    lean = np.arctan2(float(np.mean(e2)) * np.sin(delta), float(np.mean(e1)) - float(np.mean(e2)) * np.cos(delta))
    i, slope = d.current(amps, theta + lean)
    v1 = d.emf(e1, theta) - d.up(r1) * i - d.up(x1) * slope
    v2 = d.emf(e2, theta - delta) + d.up(r1) * i + d.up(x1) * slope
    return v1, i, v2, -i, d.worst(e12, 2 * r1, 2 * x1)


def four(d, v1, i1, v2, i2):
    return [*pair_of(d, v1, i1), *pair_of(d, v2, i2)]


def wye_under_240(rng):
    """Two hot legs of 208Y/120 under a 240 V plate; the file may say anything."""
    d = Draw(rng, 240, hertz=60.0)
    e = rng.uniform(118, 123)
    walk = d.source(e)
    r = rng.uniform(0.02, 0.08)
    v1, i1, v2, i2, worst = two_legs(d, 2 * np.pi / 3, walk, walk, r, 0.02)
    circuit = [None, d.circuit(208), d.circuit(240)][int(rng.integers(0, 3))]
    return record(d, four(d, v1, i1, v2, i2), WEAK, worst, "120 degrees, 208 V", circuit)


def same_leg_twice(rng):
    """Both pairs on one leg: nothing is known of the other."""
    d = Draw(rng, 240, hertz=60.0)
    e = d.source(rng.uniform(118, 123))
    r = rng.uniform(0.02, 0.08)
    v1, i1, v2, i2, worst = two_legs(d, np.pi, e, e, r, 0.02)
    sign = rng.choice([1.0, -1.0]) if rng.random() < 0.3 else 1.0
    noise = d.rng.normal(0, 0.05, v1.size)
    return record(d, four(d, v1, i1, v1 + noise, sign * i1), WEAK, 0.0, "the same leg twice", None)


def weak_split(rng):
    """Split phase with one bad leg, or both."""
    d = Draw(rng, 240, hertz=60.0)
    e = d.source(rng.uniform(119, 124))
    loop, x = loop_for(d, under(d), 2 * float(np.mean(e)))
    v1, i1, v2, i2, worst = two_legs(d, np.pi, e, e, loop / 2, x / 2)
    return record(d, four(d, v1, i1, v2, i2), WEAK, worst, "weak split phase", some_circuit(d, 240))


def swapped_amps(rng):
    """Volts of one leg beside amperes of the other, on a weak split phase."""
    d = Draw(rng, 240, hertz=60.0)
    e = d.source(rng.uniform(119, 124))
    loop, x = loop_for(d, under(d), 2 * float(np.mean(e)))
    v1, i1, v2, i2, worst = two_legs(d, np.pi, e, e, loop / 2, x / 2)
    return record(d, four(d, v1, i2, v2, i1), WEAK, worst, "amperes of the other leg", None)


def weak_120_on_two(rng):
    """A 120 V machine on one leg of two, weak."""
    d = Draw(rng, 120, hertz=60.0)
    e = d.source(rng.uniform(118, 124))
    r, x = loop_for(d, under(d), float(np.mean(e)))
    part = rng.uniform(0.2, 0.5)
    return leg_machine(d, e, r, x, part, WEAK, "weak leg")


def leg_machine(d, e, r, x, neutral, never, why):
    amps = d.solve(e, r, x)
    theta = d.angle()
    i, slope = d.current(amps, theta)
    v1 = d.emf(e, theta) - d.up(r) * i - d.up(x) * slope
    v2 = d.emf(e, theta - np.pi) + neutral * (d.up(r) * i + d.up(x) * slope)
    quiet = d.rng.uniform(0.0, 0.3) * np.sqrt(2) * np.sin(theta - np.pi)
    pairs = [*pair_of(d, v1, i), *pair_of(d, v2, quiet)]
    if d.rng.random() < 0.5:
        pairs = pairs[2:] + pairs[:2]
    return record(d, pairs, never, d.worst(e, r, x), why, some_circuit(d, 120))


def three(d, e, deltas, lines, r, x, alive=(1, 1, 1)):
    """Three lines to neutral or ground and a rectifier machine on all of them."""
    theta = d.angle()
    centre = sum(np.mean(ek) * np.exp(-1j * dk) for ek, dk in zip(e, deltas)) / 3
    between = [np.mean(ek) * np.exp(-1j * dk) - centre for ek, dk in zip(e, deltas)]
    line = np.abs(between[0]) * np.sqrt(3)
    amps = d.solve(np.full(d.g.size, float(line)), r, x, np.sqrt(3))
    out = []
    for ek, dk, bk in zip(e, deltas, between):
        i, slope = d.current(amps, theta + np.angle(bk))
        v = d.emf(ek, theta - dk) - d.up(r) * i - d.up(x) * slope
        out.append((v, i))
    worst = float(np.min(d.drop(np.array([float(line)]), np.array([r * np.sqrt(3)]), np.array([x * np.sqrt(3)]), d.i1max)))
    return out, worst


def six(d, out):
    return [channel for v, i in out for channel in pair_of(d, v, i)]


THIRDS = (0.0, 2 * np.pi / 3, 4 * np.pi / 3)


def phase_volts(rng, us=True):
    plate = int(rng.choice([208, 480])) if us else 400
    return plate, 60.0 if us else 50.0


def weak_three(rng):
    """Three phases, all too thin."""
    plate, hertz = phase_volts(rng, rng.random() < 0.6)
    d = Draw(rng, plate, float(rng.integers(12, 30)), 3, hertz)
    e = d.source(plate / np.sqrt(3) * rng.uniform(0.99, 1.03))
    loop, x = loop_for(d, under(d), float(np.mean(e)) * np.sqrt(3))
    out, worst = three(d, [e] * 3, THIRDS, None, loop / np.sqrt(3), x / np.sqrt(3))
    return record(d, six(d, out), WEAK, worst, "weak three-phase", some_circuit(d, plate))


def one_weak_line(rng):
    """Three phases, one line with a bad contact."""
    plate, hertz = phase_volts(rng, rng.random() < 0.6)
    d = Draw(rng, plate, float(rng.integers(12, 30)), 3, hertz)
    d.law = "current"
    e = d.source(plate / np.sqrt(3) * rng.uniform(0.99, 1.02))
    good = rng.uniform(0.01, 0.05)
    out, _ = three(d, [e] * 3, THIRDS, None, good, 0.01)
    line = float(np.mean(e)) * np.sqrt(3)
    a = np.exp(-1j * np.array(THIRDS)) * float(np.mean(e))
    bad = good
    while True:
        z = np.array([bad, good, good])
        i = d.i1max * d.fundamental * np.exp(-1j * (np.array(THIRDS) + d.lag))
        v = a - z * i
        worst = min(abs(v[0] - v[1]), abs(v[1] - v[2]), abs(v[2] - v[0]))
        if worst < under(d, 0.9, 0.97):
            break
        bad += 0.05
    which = int(rng.integers(0, 3))
    v, i = out[which]
    extra = (bad - good) * i
    out[which] = (v - extra, i)
    return record(d, six(d, out), WEAK, float(worst), "one bad line of three", some_circuit(d, plate))


def phase_twice(rng):
    """Three pairs of which two are one phase."""
    plate, hertz = phase_volts(rng)
    d = Draw(rng, plate, float(rng.integers(12, 30)), 3, hertz)
    e = d.source(plate / np.sqrt(3))
    out, worst = three(d, [e] * 3, THIRDS, None, rng.uniform(0.01, 0.05), 0.01)
    out[int(rng.integers(1, 3))] = out[0]
    return record(d, six(d, out), WEAK, 0.0, "a phase measured twice", None)


def missing_phase(rng):
    """A fuse ahead of the machine: two lines feed it, the third is dragged along."""
    plate, hertz = phase_volts(rng)
    d = Draw(rng, plate, float(rng.integers(12, 30)), 3, hertz)
    e = d.source(plate / np.sqrt(3))
    out, worst = three(d, [e] * 3, THIRDS, None, rng.uniform(0.01, 0.05), 0.01)
    back = rng.uniform(0.0, 0.6)
    (v0, i0), (v1, i1), _ = out
    i = i0 - 0.5 * (i0 + i1)
    out = [(v0, i), (v1, -i), (-back * (v0 + v1) / 2, 0 * i)]
    order = rng.permutation(3)
    return record(d, six(d, [out[k] for k in order]), WEAK, 0.0, "a phase is missing", None)


def wrong_class_high(rng):
    """A 120 V machine on a 240 V outlet, seen before and during (it would not live long)."""
    d = Draw(rng, 120, hertz=60.0)
    d.law = "current"
    d.share = rng.uniform(0.2, 0.6)
    e = d.source(rng.uniform(232, 246))
    v, i = single(d, e, rng.uniform(0.05, 0.3), 0.02)
    return record(d, pair_of(d, v, i), ["adequate", "marginal"], 0.0, "240 V under a 120 V plate", None)


def wrong_class_low(rng):
    """A 240 V machine on 120 V."""
    d = Draw(rng, 240, hertz=60.0)
    d.law = "current"
    d.share = rng.uniform(0.3, 0.6)
    e = d.source(rng.uniform(116, 124))
    v, i = single(d, e, rng.uniform(0.05, 0.3), 0.02)
    return record(d, pair_of(d, v, i), ["adequate", "marginal"], 0.0, "120 V under a 240 V plate", None)


def neighbour_masks(rng):
    """A heater on the same circuit that goes off whenever the arc begins, half of the times."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    r, x = loop_for(d, under(d, 0.86, 0.96), open_volts)
    off = np.ones_like(d.g)
    for start, end in d.spans:
        if rng.random() < 0.5:
            off[(d.g > start - rng.uniform(-0.1, 0.5)) & (d.g < end)] = 0
    other = rng.uniform(2, 8)
    e = d.source(open_volts) - other * r * off
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "a neighbour hides the drop", d.circuit(d.u1, dedicated=False))


# healthy ones --------------------------------------------------------------------------------
def healthy_plain(rng):
    """A heavy wire, an ordinary evening."""
    d = Draw(rng, *([120] if rng.random() < 0.3 else []))
    e, r, x, v, i = good_welds(d, 0.98, 1.03)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "healthy", some_circuit(d, d.u1))


def healthy_heater_elsewhere(rng):
    """Dedicated; something of the building switches by itself, 0.3 to 2 V seen here."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    r, x = good_loop(d, open_volts)
    e = d.source(open_volts)
    on = False
    at = rng.uniform(0.5, 2.0)
    size = rng.uniform(0.3, 2.0)
    while at < d.seconds:
        on = not on
        e = e - np.where(d.g >= at, size if on else -size, 0.0)
        at += rng.uniform(0.7, 4.0)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "a heater elsewhere", d.circuit(d.u1))


def healthy_tap_change(rng):
    """The utility's transformer changes a tap: one step of 0.6 to 1.3 %."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.02)
    r, x = good_loop(d, open_volts)
    step = open_volts * rng.uniform(0.006, 0.0125) * rng.choice([-1, 1])
    e = d.source(open_volts) + np.where(d.g > rng.uniform(1.0, d.seconds - 1), step, 0)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "a tap change", d.circuit(d.u1))


def healthy_utility_dip(rng):
    """A fault far away: the voltage dips for 60 to 200 ms while no arc burns."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.02)
    r, x = good_loop(d, open_volts)
    at = rng.uniform(0.6, d.spans[0][0] - 0.6) if rng.random() < 0.5 else d.spans[0][1] + 0.4
    dip = np.where((d.g > at) & (d.g < at + rng.uniform(0.06, 0.2)), rng.uniform(0.05, 0.35), 0)
    e = d.source(open_volts) * (1 - dip)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "a dip of the utility", d.circuit(d.u1))


def healthy_samples_lost(rng):
    """Healthy; the logger lost pieces."""
    d = Draw(rng)
    e, r, x, v, i = good_welds(d, 0.99, 1.03)
    channels = pair_of(d, v, i)
    for _ in range(int(rng.integers(1, 5))):
        at = int(rng.uniform(0.1, 0.95) * d.frames)
        for channel in channels:
            channel[at : at + int(rng.uniform(0.002, 0.15) * d.rate)] = np.nan
    return record(d, channels, HEALTHY, d.worst(e, r, x), "samples lost", some_circuit(d, d.u1))


def healthy_split(rng):
    """A good split phase, legs a little unlike."""
    d = Draw(rng, 240, hertz=60.0)
    e1 = d.source(rng.uniform(118, 123))
    e2 = e1 + rng.uniform(-1.5, 1.5)
    loop, x = good_loop(d, 240)
    v1, i1, v2, i2, worst = two_legs(d, np.pi, e1, e2, loop / 2, x / 2)
    channels = four(d, v1, i1, v2, i2)
    return record(d, channels, HEALTHY, worst, "healthy split phase", some_circuit(d, 240))


def healthy_120_on_two(rng):
    """A 120 V machine on one leg of a two-pair sensor."""
    d = Draw(rng, 120, hertz=60.0)
    e = d.source(rng.uniform(118, 123))
    r, x = good_loop(d, float(np.mean(e)))
    return leg_machine(d, e, r, x, rng.uniform(0.2, 0.5), HEALTHY, "healthy leg")


def healthy_208(rng):
    """A 208 V plate on two legs of a wye."""
    d = Draw(rng, 208, hertz=60.0)
    e = d.source(rng.uniform(118, 123))
    loop, x = good_loop(d, 208)
    v1, i1, v2, i2, worst = two_legs(d, 2 * np.pi / 3, e, e, loop / 2, x / 2)
    return record(d, four(d, v1, i1, v2, i2), HEALTHY, worst, "208 V under 208", some_circuit(d, 208))


def healthy_high_leg(rng):
    """240 V delta with a centre tap: 120, 208, 120 to neutral; 240 between any two."""
    d = Draw(rng, 240, float(rng.integers(12, 25)), 3, 60.0)
    half = rng.uniform(119, 123)
    e = [d.source(half), d.source(half), d.source(half * np.sqrt(3))]
    d.walk_volts = 0
    deltas = [0.0, np.pi, np.pi / 2]
    r = rng.uniform(0.02, 0.07)
    out, worst = three(d, e, deltas, None, r, 0.02)
    order = rng.permutation(3)
    return record(d, six(d, [out[k] for k in order]), HEALTHY, worst, "high-leg delta", None)


def healthy_three(rng):
    """Three good phases."""
    plate, hertz = phase_volts(rng, rng.random() < 0.6)
    d = Draw(rng, plate, float(rng.integers(12, 30)), 3, hertz)
    e = d.source(plate / np.sqrt(3) * rng.uniform(0.99, 1.03))
    loop, x = good_loop(d, plate)
    out, worst = three(d, [e] * 3, THIRDS, None, loop / np.sqrt(3), x / np.sqrt(3))
    return record(d, six(d, out), HEALTHY, worst, "healthy three-phase", some_circuit(d, plate))


def healthy_hot_start(rng):
    """The first 40 ms of each arc draw up to twice the current."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    r, x = good_loop(d, open_volts)
    times, length = rng.uniform(1.3, 2.0), rng.uniform(0.03, 0.05)
    plain = d.demand

    def surge():
        part = plain()
        for start, _ in d.spans:
            part = np.where((d.g >= start) & (d.g < start + length), part * times, part)
        return part

    d.demand = surge
    e = d.source(open_volts)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "hot start", some_circuit(d, d.u1))


def healthy_phase_jump(rng):
    """The town switches: the angle jumps by a few degrees, and a spike now and then."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    r, x = good_loop(d, open_volts)
    e = d.source(open_volts)
    at = rng.uniform(1.0, d.seconds - 0.5)
    jump = np.deg2rad(rng.uniform(3, 12)) * rng.choice([-1, 1])
    plain = d.angle
    d.angle = lambda: plain() + np.where(d.t > at, jump, 0.0)
    v, i = single(d, e, r, x)
    for _ in range(int(rng.integers(0, 4))):
        n = int(rng.uniform(0.1, 0.9) * d.frames)
        v[n : n + max(1, int(0.0003 * d.rate))] += rng.uniform(-200, 200)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "phase jump and spikes", some_circuit(d, d.u1))


def healthy_coarse(rng):
    """A cheap logger: ten to twelve bits."""
    d = Draw(rng)
    e, r, x, v, i = good_welds(d, 0.99, 1.03)
    return record(d, pair_of(d, v, i, int(rng.integers(10, 13))), HEALTHY, d.worst(e, r, x), "few bits", some_circuit(d, d.u1))


def weak_coarse(rng):
    """A cheap logger over a weak supply: eight to eleven bits."""
    d = Draw(rng)
    e, r, x, v, i = weak_welds(d, 0.98, 1.03, 0.86, 0.97)
    return record(d, pair_of(d, v, i, int(rng.integers(8, 12))), WEAK, d.worst(e, r, x), "weak, few bits")


def weak_slow_or_fast(rng):
    """Weak, sampled at 1,000 to 1,600 or at 50,000 a second."""
    d = Draw(rng, arcs=3)
    d.rate = float(rng.choice([1000, 1280, 1600, 50000]))
    d.grid()
    open_volts = d.u1 * rng.uniform(0.98, 1.03)
    r, x = loop_for(d, under(d, 0.86, 0.98), open_volts)
    e = d.source(open_volts)
    d.orders = [o for o in d.orders if o[0] * d.hertz < 0.4 * d.rate]
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "weak, other rates")


def weak_one_arc(rng):
    """One bead of two to four seconds over a weak supply."""
    d = Draw(rng, arcs=1)
    a = d.spans[0][0]
    d.spans = [(a, a + rng.uniform(2.0, 4.0))]
    d.seconds = d.spans[0][1] + 1.5
    d.grid()
    e, r, x, v, i = weak_welds(d, 0.98, 1.03, 0.86, 0.98)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, x), "one bead, weak")


def weak_sagging_town(rng):
    """A motor somewhere pulls the town down for seconds, again and again, while arcs burn."""
    d = Draw(rng)
    high = d.u1 * rng.uniform(0.99, 1.02)
    r = rng.uniform(0.05, 0.3)
    low = high
    while d.drop(low, r, 0.02, d.i1max) > d.needs * 0.97:
        low -= 0.5
    e = np.full(d.g.size, high)
    for start, end in d.spans:
        if rng.random() < 0.7 or start == d.spans[0][0]:
            at = rng.uniform(start + 0.1, end - 0.7)
            e[(d.g > at) & (d.g < at + rng.uniform(0.5, 2.0))] = low
    v, i = single(d, e, r, 0.02)
    return record(d, pair_of(d, v, i), WEAK, d.worst(e, r, 0.02), "sags while it burns")


def wild_leg(rng):
    """A 120 V machine on the high leg of a delta: 208 V."""
    d = Draw(rng, 120, hertz=60.0)
    d.law = "current"
    e = d.source(rng.uniform(203, 212))
    v, i = single(d, e, rng.uniform(0.05, 0.2), 0.02)
    return record(d, pair_of(d, v, i), ["adequate", "marginal"], 0.0, "the high leg", None)


def weak_lines_of_delta(rng):
    """Volts measured from line to line, amperes in the lines: 30 degrees apart. Weak."""
    return delta_lines(rng, True)


def delta_lines(rng, weak):
    plate, hertz = phase_volts(rng)
    d = Draw(rng, plate, float(rng.integers(12, 30)), 3, hertz)
    e = d.source(plate / np.sqrt(3) * rng.uniform(0.99, 1.02))
    loop, x = loop_for(d, under(d), plate) if weak else good_loop(d, plate)
    out, worst = three(d, [e] * 3, THIRDS, None, loop / np.sqrt(3), x / np.sqrt(3))
    volts = [out[0][0] - out[1][0], out[1][0] - out[2][0], out[2][0] - out[0][0]]
    lines = [(v, i) for v, (_, i) in zip(volts, out)]
    circuit = d.circuit(plate) if rng.random() < 0.5 else None
    return record(d, six(d, lines), WEAK if weak else HEALTHY, worst, "volts line to line", circuit)


def weak_line_pair_of_three(rng):
    """A single-phase machine between two lines of a weak wye that all three pairs watch."""
    return line_pair(rng, True)


def line_pair(rng, weak):
    d = Draw(rng, 208, hertz=60.0)
    e = d.source(rng.uniform(119, 123))
    target = under(d) if weak else None
    loop, x = loop_for(d, target, np.sqrt(3) * float(np.mean(e))) if weak else good_loop(d, 208)
    v1, i1, v2, i2, worst = two_legs(d, 2 * np.pi / 3, e, e, loop / 2, x / 2)
    theta = d.angle()
    third = d.emf(e, theta + 2 * np.pi / 3)
    rows = [(v1, i1), (v2, i2), (third, 0.1 * np.sin(theta))]
    return record(d, six(d, [rows[k] for k in rng.permutation(3)]), WEAK if weak else HEALTHY, worst, "two of three lines", None)


def healthy_lines_of_delta(rng):
    """The same measured line to line, healthy."""
    return delta_lines(rng, False)


def healthy_line_pair_of_three(rng):
    """The same, healthy."""
    return line_pair(rng, False)


def healthy_low_but_inside(rng):
    """Low by a few per cent, and still inside the plate's tenth at full load."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.96, 0.99)
    r, x = loop_for(d, over(d, open_volts, 1.02), open_volts)
    d.walk_volts = 0.01
    e = d.source(open_volts)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "inside, not by much", some_circuit(d, d.u1))


def healthy_one_arc(rng):
    """One good bead near the full current."""
    d = Draw(rng, arcs=1)
    a = d.spans[0][0]
    d.spans = [(a, a + rng.uniform(2.5, 5.0))]
    d.seconds = d.spans[0][1] + 2.0
    d.share = rng.uniform(0.7, 1.0)
    d.grid()
    e, r, x, v, i = good_welds(d, 0.99, 1.03)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "one bead", some_circuit(d, d.u1))


def swell_while_welding(rng):
    """The voltage rises for a second or three while an arc burns, over what the plate permits."""
    d = Draw(rng)
    open_volts = d.u1 * rng.uniform(0.99, 1.03)
    r, x = good_loop(d, open_volts)
    start, end = d.spans[int(rng.integers(0, len(d.spans)))]
    at = rng.uniform(start, end - 0.9)
    high = d.u1 * rng.uniform(1.16, 1.3)
    swell = (d.g > at) & (d.g < at + rng.uniform(0.8, 2.5))
    e = np.where(swell, high, d.source(open_volts))
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), WEAK, 0.0, "a swell", some_circuit(d, d.u1))


def healthy_high_but_inside(rng):
    """High by three to seven per cent, inside the plate's tenth."""
    d = Draw(rng, *([120] if rng.random() < 0.3 else []))
    open_volts = d.u1 * rng.uniform(1.03, 1.07)
    r, x = good_loop(d, open_volts)
    d.walk_volts = 0.01
    e = d.source(open_volts)
    v, i = single(d, e, r, x)
    return record(d, pair_of(d, v, i), HEALTHY, d.worst(e, r, x), "high, inside", some_circuit(d, d.u1))


CLASSES = {f.__name__.replace("_", "-"): f for f in (
    weak_steady, weak_drifting, weak_light_bead, connection_fails_between, contact_heats_within,
    weak_generator, recovers_after, low_in_the_middle, clipped_voltage, clipped_current,
    current_scale_large, reversed_current, one_tack, wye_under_240, same_leg_twice, weak_split,
    swapped_amps, weak_120_on_two, weak_three, one_weak_line, phase_twice, missing_phase,
    wrong_class_high, wrong_class_low, neighbour_masks, weak_coarse, weak_slow_or_fast,
    weak_one_arc, weak_sagging_town, wild_leg, weak_lines_of_delta, weak_line_pair_of_three,
    swell_while_welding,
    healthy_plain, healthy_heater_elsewhere, healthy_tap_change, healthy_utility_dip,
    healthy_samples_lost, healthy_split, healthy_120_on_two, healthy_208, healthy_high_leg,
    healthy_three, healthy_hot_start, healthy_phase_jump, healthy_coarse, healthy_lines_of_delta,
    healthy_line_pair_of_three, healthy_low_but_inside, healthy_one_arc,
    healthy_high_but_inside,
)}


def main():
    if sys.argv[1:] == ["--classes"]:
        print("\n".join(CLASSES))
        return
    seed, count, *names = sys.argv[1:]
    names = names or list(CLASSES)
    out = sys.stdout.buffer
    for k in range(int(count)):
        name = names[k % len(names)]
        at = list(CLASSES).index(name)
        rng = np.random.default_rng([int(seed), at, k // len(names)])
        head, channels = CLASSES[name](rng)
        head = {"class": name, "seed": int(seed), "draw": k // len(names), **head}
        out.write(json.dumps(head).encode() + b"\n")
        out.write(np.stack(channels, axis=1).astype("<f4").tobytes())
        out.flush()


main()
