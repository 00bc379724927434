"""
Level and drift at the last time, and the log likelihood given the first value, without a filter: the
joint normal distribution of all observations, conditioned directly.
"""

from pathlib import Path

import numpy as np

FIGURES = Path(__file__).parent.parent / "figures"


def direct(t, y, noise, level, drift_mean, drift_variance):
    t, y = np.asarray(t, float), np.asarray(y, float)
    since = t - t[0]
    # A first level of very large variance stands for an unknown one; here it is conditioned on exactly:
    # state at the first time given y[0] is normal with mean y[0] and the noise variance.
    walk = level * np.minimum.outer(since, since)
    prior = noise + walk + drift_variance * np.outer(since, since)
    covariance = prior[1:, 1:] + noise * np.eye(len(t) - 1)
    mean = y[0] + drift_mean * since
    solved = np.linalg.solve(covariance, y[1:] - mean[1:])
    _, log_determinant = np.linalg.slogdet(covariance)
    likelihood = -0.5 * (
        (len(t) - 1) * np.log(2 * np.pi) + log_determinant + (y[1:] - mean[1:]) @ solved
    )
    return (
        mean[-1] + prior[-1, 1:] @ solved,
        drift_mean + drift_variance * since[1:] @ solved,
        likelihood,
    )


rows = np.loadtxt(FIGURES / "series_Nile.csv", delimiter=",", comments="#", skiprows=2)
print("Nile, fixed mean", direct(rows[:, 0], rows[:, 1], 15099, 1469.1, 0, 0))
print("Nile, drift", direct(rows[:, 0], rows[:, 1], 15099, 1469.1, 0, 25))
t = [0, 0.21, 0.5, 0.5, 0.77, 1.3, 1.52]
y = [13.1, 12.9, 12.4, 12.6, 12.5, 12.1, 11.6]
print("uneven", direct(t, y, 0.09, 0.04, -0.3, 0.25))
