"""Recomputes with scipy the oracle figures that scipy can make, and prints the largest difference."""

import json
from pathlib import Path

import numpy as np
from scipy import integrate, optimize, special, stats

ORACLE = Path(__file__).parent.parent / "figures" / "oracle"


def cases(name):
    return json.loads((ORACLE / f"{name}.json").read_text())["cases"]


def relative(actual, expected):
    return abs(actual - expected) / (abs(expected) or 1)


def theil_sen():
    for case in cases("theil_sen"):
        x = np.array(case["t_days"]) / 365.25
        for name, level in (("ci80", 0.8), ("ci90", 0.9), ("ci95", 0.95)):
            fit = stats.theilslopes(case["y"], x, level, method="separate")
            for actual, key in zip(fit, ("slope", "intercept", "low", "high")):
                yield relative(actual, case[name][key])


def kendall():
    for case in cases("kendall_scipy"):
        fit = stats.kendalltau(case["t"], case["y"], method="asymptotic")
        if case["tau_b"] is not None:
            yield relative(fit.statistic, case["tau_b"])
            yield relative(fit.pvalue, case["p_asymptotic_no_continuity"])


def quantiles():
    functions = {
        "qnorm": lambda p, df: stats.norm.ppf(p),
        "pnorm": lambda x, df: stats.norm.cdf(x),
        "pt": lambda x, df: stats.t.cdf(x, df),
        "qchisq": lambda p, df: stats.chi2.ppf(p, df),
    }
    for case in cases("quantiles"):
        if case["fn"] in functions:
            for at, value in zip(case.get("p") or case["x"], case["value"]):
                yield relative(functions[case["fn"]](at, case.get("df")), value)


def inverse_gaussian():
    for case in cases("inverse_gaussian"):
        mean, shape = case["mean"], case["shape"]
        law = stats.invgauss(mean / shape, scale=shape)
        for x, value in zip(case["x"], case["cdf"]):
            yield abs(law.cdf(x) - value)
        for p, value in zip(case["p"], case["quantile"]):
            yield relative(law.ppf(p), value)


def kaplan_meier():
    for case in cases("kaplan_meier"):
        miles, failed = np.array(case["miles"]), np.array(case["failed"], bool)
        data = stats.CensoredData.right_censored(miles, ~failed)
        survival = stats.ecdf(data).sf
        for time, value in zip(case["time"], case["surv"]):
            yield abs(survival.evaluate(time) - value)


def weibull():
    for case in cases("weibull"):
        if "expect" in case:
            continue
        miles, failed = np.array(case["miles"], float), np.array(case["failed"], bool)
        logs = np.log(miles / miles.max())

        def score(shape):
            powers = np.exp(shape * logs)
            return (powers @ logs) / powers.sum() - 1 / shape - logs[failed].mean()

        shape = optimize.brentq(score, 1e-3, 1e3, xtol=1e-14, rtol=1e-14)
        scale = miles.max() * (np.exp(shape * logs).sum() / failed.sum()) ** (1 / shape)
        yield relative(shape, case["shape"])
        yield relative(scale, case["scale"])


def age_replacement():
    for case in cases("age_replacement"):
        if case["T_opt"] is None:
            continue
        shape, scale, ratio = case["shape"], case["scale"], case["cost_ratio"]

        def cost(age):
            survival = np.exp(-((age / scale) ** shape))
            life, _ = integrate.quad(
                lambda t: np.exp(-((t / scale) ** shape)), 0, age, epsabs=0, epsrel=1e-13
            )
            return (ratio * (1 - survival) + survival) / life

        best = optimize.minimize_scalar(cost, bounds=(1e3, 3.8e5), method="bounded")
        yield relative(best.fun, case["cost_at_T_opt"])


def run_lengths():
    """One-sided cumulative sums, by quadrature of Page's equation; rounding costs 1e-7 at 4e7 readings."""
    nodes, weights = special.roots_legendre(120)
    for case in cases("arl"):
        if case["chart"] != "cusum" or "solve_for" in case:
            continue
        k, h = case["k"], case["h"]
        y, w = (nodes + 1) * h / 2, weights * h / 2
        z = np.append(y, 0)
        for key, shift in (("arl0", 0), ("arl_shift0.5", 0.5), ("arl_shift1", 1), ("arl_shift2", 2)):
            moves = stats.norm.pdf(y[None, :] - z[:, None] + k - shift) * w
            held = stats.norm.cdf(k - shift - z)
            kernel = np.column_stack([moves, held])
            lengths = np.linalg.solve(np.eye(len(z)) - kernel, np.ones(len(z)))
            yield relative(lengths[-1], case[key])


for check in (
    theil_sen,
    kendall,
    quantiles,
    inverse_gaussian,
    kaplan_meier,
    weibull,
    age_replacement,
    run_lengths,
):
    print(f"{check.__name__:18} largest difference {max(check()):.1e}")

print("normal tail at -20", stats.norm.cdf(-20), "at -37", stats.norm.cdf(-37))
