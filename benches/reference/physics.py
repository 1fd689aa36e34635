#!/usr/bin/env python3
"""The work of crates/science/benches/physics.rs with numpy and scipy, for runs side by side.

Needs numpy and scipy. Prints the best of a few runs of each, in milliseconds.
"""

import math
import time

import numpy as np
from scipy.integrate import solve_ivp
from scipy.linalg import expm
from scipy.optimize import least_squares
from scipy.sparse import diags_array


def best(runs, work):
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return 1000 * min(times)


# --- a year at 60 s with seven nodes: air w, air c, floor w, floor c, shell, bowl, heater
CAPACITIES = np.array([3000, 3000, 18000, 18000, 34000, 6300, 900.0])
TO_ROOM = np.array([0.1, 0.1, 0.45, 0.45, 9.5, 0, 0])
LINKS = [(0, 1, 4.0), (0, 2, 1.4), (1, 3, 1.0), (0, 4, 3.6), (1, 4, 3.6), (2, 4, 1.8), (3, 4, 1.8), (2, 3, 0.15),
         (5, 1, 0.10), (5, 3, 0.15), (6, 0, 0.25), (6, 2, 0.20), (6, 4, 0.15)]


def year():
    k = np.diag(TO_ROOM)
    for i, j, g in LINKS:
        k[i, i] += g
        k[j, j] += g
        k[i, j] -= g
        k[j, i] -= g
    dt, heater = 60.0, np.eye(7)[6]
    m = np.zeros((9, 9))
    m[:7, :7] = -k / CAPACITIES[:, None]
    m[:7, 7], m[:7, 8] = TO_ROOM / CAPACITIES, heater / CAPACITIES
    e = expm(m * dt)
    f, room_in, heat_in = e[:7, :7], e[:7, 7], e[:7, 8]
    t, s, on, keep, energy = np.full(7, 20.0), 20.0, True, math.exp(-dt / 120.0), 0.0
    for step in range(525_600):
        room = 20.0 + 2.0 * math.sin(2 * math.pi * (step * dt / 86400.0 - 0.375))
        if s > 31.5:
            on = False
        elif s < 30.5:
            on = True
        power = 120.0 if on else 0.0
        energy += power * dt
        s = s * keep + (1 - keep) * t[0]
        t = f @ t + room_in * room + heat_in * power
    return energy


# --- a mouse of 25 g in room air, 40 shells, enthalpy method
XW, XP, XF, XA, TF, RHO = 0.66, 0.18, 0.12, 0.04, -1.2, 1040.0
XS, XB, TR = 1 - XW, 0.4 * XP, -40.0
A, B = 1.55 + 1.26 * XS, (XW - XB) * 333.6 * TF / TR
HF, CU = (TF - TR) * (A - B / TF), 4.19 - 2.30 * XS - 0.628 * XS**3


def conductivity(t):
    ice = (XW - XB) * (1 - TF / t) if t < TF else 0.0
    parts = [(XW - ice, 0.57109 + 1.7625e-3 * t - 6.7036e-6 * t * t, 997.18 + 3.1439e-3 * t - 3.7574e-3 * t * t),
             (ice, 2.2196 - 6.2489e-3 * t + 1.0154e-4 * t * t, 916.89 - 0.13071 * t),
             (XP, 0.17881 + 1.1958e-3 * t - 2.7178e-6 * t * t, 1329.9 - 0.5184 * t),
             (XF, 0.18071 - 2.7604e-4 * t - 1.7749e-7 * t * t, 925.59 - 0.41757 * t),
             (XA, 0.32962 + 1.4011e-3 * t - 2.9069e-6 * t * t, 2423.8 - 0.28063 * t)]
    volume = sum(x / r for x, _, r in parts)
    return sum(k * x / r for x, k, r in parts) / volume


def temperature(h):
    b = A * TR + B + h
    frozen = (b - np.sqrt(np.maximum(b * b - 4 * A * B * TR, 0))) / (2 * A)
    return np.where(h <= HF, frozen, TF + (h - HF) / CU)


def thaw(n=40, radius=0.0124, dimension=2.2646, film=11.0, medium=21.0):
    table_h = np.concatenate([np.linspace(0, HF, 600), np.linspace(HF + 1e-9, HF + (60 - TF) * CU, 600)])
    table_k = np.array([conductivity(float(t)) for t in temperature(table_h)])
    faces = np.linspace(0, radius, n + 1)
    area, volume, width = faces ** (dimension - 1), (faces[1:]**dimension - faces[:-1]**dimension) / dimension, radius / n

    def rate(_, h):
        t, k = temperature(h), np.interp(h, table_h, table_k)
        q = np.zeros(n + 1)
        q[1:-1] = 2 * k[1:] * k[:-1] / (k[1:] + k[:-1]) * (t[1:] - t[:-1]) / width * area[1:-1]
        q[-1] = (medium - t[-1]) / (1 / film + width / 2 / k[-1]) * area[-1]
        return (q[1:] - q[:-1]) / volume / RHO / 1000

    def centre(_, h):
        t = temperature(h[:2])
        return t[0] - (t[1] - t[0]) / 8

    centre.terminal = True
    start = np.full(n, (-18 - TR) * (A - B / -18))
    band = diags_array([np.ones(n - 1), np.ones(n), np.ones(n - 1)], offsets=[-1, 0, 1], shape=(n, n)).tocsc()
    end = solve_ivp(rate, (0, 20_000), start, method="BDF", rtol=1e-6, atol=1e-5, events=centre, jac_sparsity=band)
    return end.t_events[0][0]


# --- two zones from 30 days at one minute
def two_zones(p, dt):
    gw, gc, gx, cw, cc = p
    m = np.zeros((4, 4))
    m[0] = [-(gw + gx) / cw, gx / cw, gw / cw, 0.8 / cw]
    m[1] = [gx / cc, -(gc + gx) / cc, gc / cc, 0.2 / cc]
    e = expm(m * dt)
    return e[:2, :2], e[:2, 2:]


def simulate(p, start, inputs, dt=60.0):
    f, g = two_zones(p, dt)
    driven = inputs @ g.T
    out, x = np.empty_like(driven), np.array(start, float)
    for k in range(len(driven)):
        out[k] = x
        x = f @ x + driven[k]
    return out


def calibration():
    t = np.arange(43_200) * 60.0
    room = 20 + 1.5 * np.sin(2 * np.pi * (t / 86400 - 0.375))
    power = np.where((t % 86400 <= 72000) & (t % 4200 < 2400), 90.0, 0.0)
    inputs = np.column_stack([room, power])
    log = np.round(simulate([3.2, 3.6, 2.4, 26000, 30000], [24, 22], inputs), 1)
    seed = np.concatenate([np.log([2, 2, 2, 20000, 20000]), log[0]])
    return least_squares(lambda q: (simulate(np.exp(q[:5]), q[5:], inputs) - log).ravel(), seed, x_scale="jac").x


if __name__ == "__main__":
    print(f"a year with seven nodes                     {best(1, year):10.1f} ms")
    print(f"a thaw with forty shells                    {best(3, thaw):10.1f} ms, {thaw():.0f} s to 0 °C")
    print(f"a calibration on thirty days at one minute  {best(1, calibration):10.1f} ms")
