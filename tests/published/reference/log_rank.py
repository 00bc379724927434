"""Log-rank test of the acute myelogenous leukaemia lives (Miller 1981; R survival::aml, from memory)."""

import numpy as np
from scipy import stats


def lives(times, failed):
    return stats.CensoredData.right_censored(np.array(times, float), ~np.array(failed, bool))


maintained = lives(
    [9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161], [1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0]
)
unmaintained = lives(
    [5, 5, 8, 8, 12, 16, 23, 27, 30, 33, 43, 45], [1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1]
)
test = stats.logrank(maintained, unmaintained)
print("chi-square", test.statistic**2, "p", test.pvalue)
