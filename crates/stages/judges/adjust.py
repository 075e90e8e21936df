"""Judges the survey's adjustment: the same rooms, equations stated another way, a reference library.

Reads a list of rooms as JSON, answers with the free unknowns, their covariance and the sum of squares of each,
and with the seconds that the solving took.
"""

import json
import sys
import time
import warnings

import numpy as np
from scipy.optimize import least_squares


def raised(x, n, corner, height):
    """Where the two walls that meet in a corner cross, each moved out by its lean."""
    before, after = (corner - 1) % n, (corner + 1) % n
    p, q, r = (x[2 * i : 2 * i + 2] for i in (before, corner, after))

    def line(a, b, lean):
        d = b - a
        length = np.sqrt(d[0] * d[0] + d[1] * d[1])
        normal = np.array([d[1], -d[0]]) / length
        return normal, normal @ a + lean * height

    (n1, c1), (n2, c2) = line(p, q, x[2 * n + before]), line(q, r, x[2 * n + corner])
    det = n1[0] * n2[1] - n1[1] * n2[0]
    return np.array([(c1 * n2[1] - c2 * n1[1]) / det, (n1[0] * c2 - n2[0] * c1) / det])


def model(x, n, what):
    kind, args = what[0], what[1:]
    if kind == "assumed":
        return x[args[0]]
    if kind == "lean":
        return x[2 * n + args[0]] * args[1]
    start, end, height, tape, hook = args
    d = raised(x, n, end, height) - raised(x, n, start, height)
    length = np.sqrt(d[0] * d[0] + d[1] * d[1])
    if tape:
        length = length * (1 + x[3 * n]) + hook * x[3 * n + 1]
    return length


def judge(room):
    n, free = room["corners"], np.array(room["free"])
    full = np.array(room["start"], dtype=float)
    observations = room["observations"]

    def weighted(values, dtype=float):
        x = full.astype(dtype)
        x[free] = values
        return np.array([(model(x, n, o[2:]) - o[0]) / o[1] for o in observations])

    def slopes(values):
        columns = []
        for k in range(len(free)):
            step = values.astype(complex)
            step[k] += 1e-30j
            columns.append(weighted(step, complex).imag / 1e-30)
        return np.stack(columns, axis=1)

    def solve(start):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return least_squares(
                weighted, start, jac=slopes, method="lm", x_scale="jac",
                xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=2000,
            )

    begun = time.perf_counter()
    found = solve(full[free])
    seconds = time.perf_counter() - begun
    x = found.x
    for _ in range(3):
        x = x - np.linalg.lstsq(slopes(x), weighted(x), rcond=None)[0]
    jacobian = slopes(x)
    scale = np.linalg.norm(jacobian, axis=0)
    _, s, vt = np.linalg.svd(jacobian / scale, full_matrices=False)
    covariance = (vt.T / s**2) @ vt / np.outer(scale, scale)
    return {"library": found.x.tolist(), "x": x.tolist(), "covariance": covariance.ravel().tolist(), "ssq": float(2 * found.cost), "seconds": seconds}


def main():
    rooms = json.load(sys.stdin)
    answers = [judge(room) for room in rooms]
    json.dump({"rooms": answers, "seconds": sum(answer["seconds"] for answer in answers)}, sys.stdout)


main()
