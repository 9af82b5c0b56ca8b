"""The two-pool urea model in its steady state by SciPy.

Usage: scipy_peer.py METHOD RTOL REPEATS < cases
METHOD is odeint, or a method of solve_ivp. Input and output are those of
cvode.c, and so is the way: three columns and their areas through the cycle
once, then a 2x2 equation.
"""
import sys
import time

import numpy as np
from scipy.integrate import odeint, solve_ivp


def stretch(y, length, removal, transfer, outer, inner, outer_trend, inner_trend, method, rtol):
    if length <= 0:
        return y

    def slope(t, y):
        o, i = outer + outer_trend * t, inner + inner_trend * t
        a, b = -(removal + outer_trend + transfer) / o, transfer / o
        c, d = transfer / i, -(transfer + inner_trend) / i
        e0, i0, _, e1, i1, _, e2, i2, _ = y
        return (a * e0 + b * i0, c * e0 + d * i0, e0,
                a * e1 + b * i1, c * e1 + d * i1, e1,
                a * e2 + b * i2 + 1 / o, c * e2 + d * i2, e2)

    if method == "odeint":
        return odeint(slope, y, (0, length), tfirst=True, rtol=rtol, atol=rtol * 1e-3, mxstep=1000000)[-1]
    s = solve_ivp(slope, (0, length), y, method=method, rtol=rtol, atol=rtol * 1e-3)
    if not s.success:
        raise SystemExit("scipy: " + s.message)
    return s.y[:, -1]


def solve(case, method, rtol):
    volume_l, fraction, both, made, residual, transfer, cycle, sessions = case
    gain = sum(s[3] for s in sessions) * 1000 / cycle
    starts = [s[0] for s in sessions] + [sessions[0][0] + cycle]
    volume = lowest = 0.0
    for i, (start, length, _, removed) in enumerate(sessions):
        volume += gain * length - removed * 1000
        lowest = min(lowest, volume)
        volume += gain * (starts[i + 1] - start - length)
        lowest = min(lowest, volume)
    volume = volume_l * 1000 - lowest

    def run(y, length, clearance, volume, trend):
        if both:
            return stretch(y, length, residual + clearance, transfer, fraction * volume, (1 - fraction) * volume,
                           fraction * trend, (1 - fraction) * trend, method, rtol)
        inner = (1 - fraction) * volume_l * 1000
        return stretch(y, length, residual + clearance, transfer, volume - inner, inner, trend, 0.0, method, rtol)

    y = np.zeros(9)
    y[0] = y[4] = 1
    levels = []
    for i, (start, length, clearance, removed) in enumerate(sessions):
        gap, trend = starts[i + 1] - start - length, gain - removed * 1000 / length
        levels.append(y[[0, 3, 6]])
        y = run(y, length, clearance, volume, trend)
        volume += trend * length
        levels.append(y[[0, 3, 6]])
        y = run(y, 60, 0, volume, gain)
        volume += gain * 60
        levels.append(y[[0, 3, 6]])
        y = run(y, gap - 60, 0, volume, gain)
        volume += gain * (gap - 60)
    m = np.array([[1 - y[0], -y[3]], [-y[1], 1 - y[4]]])
    x = np.linalg.solve(m, made * np.array([y[6], y[7]]))
    columns = np.array([x[0], x[1], made])
    return [float(np.dot([y[2], y[5], y[8]], columns)) / cycle] + [float(np.dot(l, columns)) for l in levels]


def main():
    method, rtol, repeats = sys.argv[1], float(sys.argv[2]), int(sys.argv[3])
    words = iter(sys.stdin.read().split())
    least = []
    for _ in range(int(next(words))):
        volume, fraction, both = float(next(words)), float(next(words)), next(words) == "1"
        made, residual, transfer, cycle = (float(next(words)) for _ in range(4))
        sessions = [tuple(float(next(words)) for _ in range(4)) for _ in range(int(next(words)))]
        case = (volume, fraction, both, made, residual, transfer, cycle, sessions)
        best = 1e9
        for _ in range(repeats):
            began = time.perf_counter()
            out = solve(case, method, rtol)
            best = min(best, time.perf_counter() - began)
        least.append(best)
        print(*(repr(v) for v in out))
    print("seconds", *least)


main()
