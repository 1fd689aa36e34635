#!/usr/bin/env python3
"""The fits of crates/science/benches/statistics.rs with scipy.optimize.least_squares, for runs side by side.

Needs numpy and scipy. Derivatives are in closed form as they are there; `lm` where the loss is plain, `trf` where it is
not; beside that what scipy does by default. Prints the best of many runs of each, in microseconds, and the optimum.
"""

import time

import numpy as np
from scipy.optimize import least_squares


def best(runs, work):
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        found = work()
        times.append(time.perf_counter() - start)
    return 1e6 * min(times), found


def gompertz(t, logs):
    a, w, k = logs[0], logs[1], np.exp(logs[2])
    e = np.exp(-k * t)
    return a - (a - w) * e, np.column_stack([1 - e, e, (a - w) * k * t * e])


def richards(t, logs):
    a, w, k, m = logs[0], logs[1], np.exp(logs[2]), np.exp(logs[3])
    e = np.exp(-k * t)
    ratio, q = np.exp(m * (a - w)), np.expm1(m * (a - w)) * e
    by_start = ratio * e / (1 + q)
    log = np.log1p(q) / m
    return a - log, np.column_stack([1 - by_start, by_start, k * t * q / (m * (1 + q)), log - (a - w) * by_start])


def decays(x, b):
    e = np.exp(-np.outer(x, b[1::2]))
    slopes = np.empty((len(x), 6))
    slopes[:, 0::2], slopes[:, 1::2] = e, -x[:, None] * b[0::2] * e
    return e @ b[0::2], slopes


def sizes(curve, truth, count):
    k = np.arange(count)
    age = 0.05 + 6.0 * k / count
    off = 0.06 * np.sin(1.7 * k * k) + np.where(k % 50 == 7, 1.0, 0.0)
    return age, curve(age, np.log(truth))[0] + off


def fit(curve, x, y, start, loss="linear", bend=1.0, prior=None, sigma=1.0):
    if prior is None:
        value = lambda p: (curve(x, p)[0] - y) / sigma
        slopes = lambda p: curve(x, p)[1] / sigma
    else:
        mean, deviation = prior
        value = lambda p: np.r_[(curve(x, p)[0] - y) / sigma, (p - mean) / deviation]
        slopes = lambda p: np.vstack([curve(x, p)[1] / sigma, np.diag(1 / deviation)])
    method = "lm" if loss == "linear" else "trf"
    return least_squares(value, start, jac=slopes, method=method, loss=loss, f_scale=bend, xtol=1e-12, ftol=1e-12,
                         gtol=1e-12)


def fit_by_default(curve, x, y, start, loss="linear", bend=1.0):
    """As scipy does it when nothing is asked for: `trf`, derivatives by differences."""
    return least_squares(lambda p: curve(x, p)[0] - y, start, loss=loss, f_scale=bend)


def huber_on_data(n):
    def rho(z):
        out = np.empty((3, z.size))
        out[0], out[1], out[2] = z, 1, 0
        d = z[:n]
        far = np.maximum(d, 1.0)
        out[0, :n] = np.where(d <= 1, d, 2 * np.sqrt(far) - 1)
        out[1, :n] = far ** -0.5
        out[2, :n] = np.where(d <= 1, 0, -0.5 * far ** -1.5)
        return out
    return rho


def show(name, runs, work):
    took, found = best(runs, work)
    print(f"{name:45s} {took:12.1f} us   {np.array2string(found, precision=9)}")


TRUTH3, TRUTH4 = [1450.0, 38.0, 0.85], [1450.0, 38.0, 0.85, 0.45]
START = np.log([1000.0, 40.0, 1.0, 0.3])
for count in (10, 24, 100, 500):
    x, y = sizes(gompertz, TRUTH3, count)
    show(f"gompertz {count}", 200, lambda: fit(gompertz, x, y, START[:3]).x)
    show(f"gompertz {count}, scipy's defaults", 50, lambda: fit_by_default(gompertz, x, y, START[:3]).x)
for count in (24, 100, 500):
    x, y = sizes(richards, TRUTH4, count)
    show(f"richards {count}", 200, lambda: fit(richards, x, y, START).x)
    show(f"richards {count}, scipy's defaults", 50, lambda: fit_by_default(richards, x, y, START).x)
for count in (24, 500):
    x, y = sizes(gompertz, TRUTH3, count)
    show(f"gompertz_huber {count}", 50, lambda: fit(gompertz, x, y, START[:3], "huber", 0.08).x)

x = 0.05 * np.arange(24)
y = np.round(0.0951 * np.exp(-x) + 0.8607 * np.exp(-3 * x) + 1.5576 * np.exp(-5 * x), 5)
show("three_decays", 50, lambda: fit(decays, x, y, np.array([0.5, 0.7, 3.6, 4.2, 4.0, 6.3])).x)

x, y = sizes(gompertz, TRUTH3, 24)
mean, deviation = np.log([1300.0, 40.0, 0.8]), np.array([0.25, 0.15, 0.3])
largest, first = np.exp(y.max()), np.exp(y[0])
starts = [mean] + [np.log([share * largest, first, 1.0]) for share in (1.1, 1.5, 3.0)]


def with_prior():
    found = [fit(gompertz, x, y, s, huber_on_data(len(x)), 1.0, (mean, deviation), 0.08) for s in starts]
    return min(found, key=lambda one: one.cost).x


show("a_growth_curve_with_a_prior_from_four_starts", 20, with_prior)


def bootstrap():
    found = fit(gompertz, x, y, START[:3]).x
    curve = gompertz(x, found)[0]
    left = y - curve
    left = (left - left.mean()) * np.sqrt(24 / 21)
    drawn = np.random.default_rng(1).integers(0, 24, (300, 24))
    return np.median([fit(gompertz, x, curve + left[d], found).x for d in drawn], axis=0)


show("a_bootstrap", 2, bootstrap)
