"""One-sided cumulative sum, k = 1, h = 8, no shift: mean run length with 40 digits (mpmath 1.3.0)."""

import mpmath as mp

mp.mp.dps = 40


def mean_run_length(k, h, count):
    nodes, weights = [], []
    for i in range(1, count + 1):
        x = mp.cos(mp.pi * (i - mp.mpf(1) / 4) / (count + mp.mpf(1) / 2))
        for _ in range(8):
            before, now = mp.mpf(1), x
            for j in range(2, count + 1):
                before, now = now, ((2 * j - 1) * x * now - (j - 1) * before) / j
            slope = count * (x * now - before) / (x * x - 1)
            x -= now / slope
        nodes.append((x + 1) * h / 2)
        weights.append(h / ((1 - x * x) * slope * slope))
    states = nodes + [mp.mpf(0)]
    system = mp.matrix(count + 1, count + 1)
    for i, state in enumerate(states):
        for j in range(count):
            system[i, j] = (i == j) - mp.npdf(nodes[j] - state + k) * weights[j]
        system[i, count] = (i == count) - mp.ncdf(k - state)
    return mp.lu_solve(system, mp.matrix([1] * (count + 1)))[count]


for count in (30, 40):
    print(count, "nodes", mp.nstr(mean_run_length(mp.mpf(1), mp.mpf(8), count), 18))
