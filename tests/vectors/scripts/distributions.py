"""Writes quantiles, distributions, binomial, poisson, genpareto and tolerance."""
import math

import numpy as np
import scipy.stats as st
import statsmodels.stats.proportion as proportion
from common import write
from scipy.optimize import brentq

write(
    "quantiles",
    "scipy.stats.",
    ["numpy", "scipy"],
    {
        "t": {
            str(share): {
                str(df): float(st.t.ppf(share, df))
                for df in (1, 2, 3, 4, 5, 7, 9, 11, 14, 19, 24, 29, 59, 119)
            }
            for share in (0.9, 0.95, 0.975, 0.99, 0.995)
        },
        "z": {
            str(share): float(st.norm.ppf(share))
            for share in (0.8, 0.9, 0.95, 0.975, 0.98, 0.99, 0.995)
        },
        "chi2_2": {str(share): float(st.chi2.ppf(share, 2)) for share in (0.5, 0.9, 0.95, 0.99)},
        "sd_ci95_factors": {
            str(n): [math.sqrt((n - 1) / st.chi2.ppf(share, n - 1)) for share in (0.975, 0.025)]
            for n in (5, 8, 10, 15, 20, 30, 60, 120, 300)
        },
    },
)

write(
    "distributions",
    "scipy.stats.chi2, t, norm, f.",
    ["numpy", "scipy"],
    {
        "chi2": [
            {"p": p, "df": df, "x": float(st.chi2.ppf(p, df))}
            for p in (0.005, 0.025, 0.5, 0.95, 0.975, 0.995)
            for df in (1, 2, 3.5, 9, 29, 120, 500)
        ],
        "chi2_share": [
            {"x": x, "df": df, "p": float(st.chi2.cdf(x, df)), "above": float(st.chi2.sf(x, df))}
            for x in (0.5, 3, 20, 100)
            for df in (1, 4, 33)
        ],
        "normal_share": [
            {"z": z, "p": float(st.norm.cdf(z))} for z in (-8, -3, -0.5, 0, 1, 2.5)
        ],
    },
)


def interval(count, n, method):
    return [float(end) for end in proportion.proportion_confint(count, n, 0.05, method)]


write(
    "binomial",
    "statsmodels.stats.proportion.proportion_confint.",
    ["numpy", "scipy", "statsmodels"],
    {
        "cases": [
            {
                "k": k,
                "n": n,
                "wilson95": interval(k, n, "wilson"),
                "clopper_pearson95": interval(k, n, "beta"),
            }
            for k, n in [
                (0, 10), (0, 20), (1, 20), (3, 20), (10, 20),
                (17, 20), (19, 20), (10, 10), (45, 50), (8, 10),
            ]
        ],
    },
)


def mid_p(count):
    """Half the chance of the count itself is laid to each side."""

    def below(mean):
        return st.poisson.cdf(count, mean) - 0.5 * st.poisson.pmf(count, mean)

    def root(share, low, high):
        return float(brentq(lambda mean: below(mean) - share, low, high, xtol=1e-14, rtol=1e-14))

    far = count + 20 + 10 * math.sqrt(count + 1)
    low = 0.0 if count == 0 else root(0.975, 1e-12, count + 1)
    return [low, root(0.025, max(count, 1e-9), far)]


write(
    "poisson",
    "scipy.stats.poisson and scipy.optimize.brentq.",
    ["numpy", "scipy"],
    {
        "cases": [
            {"k": k, "mid_p95": mid_p(k)}
            for k in (0, 1, 2, 3, 5, 10, 20, 50, 100)
        ]
    },
)

SIZES = np.array([0.31, 0.02, 0.11, 0.05, 0.19, 0.44, 0.09, 0.27, 0.15, 0.08, 0.6, 0.03])
write(
    "genpareto",
    "scipy.stats.genpareto.sf, expon.fit.",
    ["numpy", "scipy"],
    {
        "cases": [
            {
                "above": above,
                "shape": shape,
                "scale": scale,
                "share": float(st.genpareto.sf(above, shape, scale=scale)),
            }
            for above in (0, 0.1, 0.7, 3)
            for shape in (-0.25, -0.1, 0, 0.2)
            for scale in (0.2, 1)
        ],
        "sizes": SIZES.tolist(),
        "exponential_scale_ml": float(st.expon.fit(SIZES, floc=0)[1]),
    },
)


def one_sided(n, share, confidence):
    beside = st.norm.ppf(share) * math.sqrt(n)
    return float(st.nct.ppf(confidence, n - 1, beside) / math.sqrt(n))


def rank(n, share, confidence):
    """The highest order statistic with `share` of all values above it: as many of n values may
    lie below a quantile, by the binomial, as leaves `confidence`."""
    ranks = [
        r for r in range(1, n + 1) if st.binom.sf(r - 1, n, 1 - share) >= confidence - 1e-12
    ]
    return max(ranks, default=0)


write(
    "tolerance",
    "One-sided exact factors: scipy.stats.nct. Ranks: scipy.stats.binom. The worked example of NIST/SEMATECH e-Handbook 7.2.6.3 prints 1.8752 by "
    "Natrella's approximation; the exact factor differs in its third decimal.",
    ["numpy", "scipy"],
    {
        "one_sided_k_exact_nct": [
            {"n": n, "p": share, "gamma": confidence, "k": one_sided(n, share, confidence)}
            for n in (3, 5, 10, 20, 30, 43, 60, 100, 300)
            for share, confidence in ((0.9, 0.95), (0.95, 0.95), (0.99, 0.95), (0.9, 0.99))
        ],
        "nist_example": {
            "n": 43, "p": 0.9, "gamma": 0.99, "k1_published": 1.8752, "k1": one_sided(43, 0.9, 0.99)
        },
        "order_statistic_rank": [
            {"n": n, "p": share, "gamma": confidence, "rank": rank(n, share, confidence)}
            for n in (10, 28, 29, 46, 59, 93, 200, 500)
            for share, confidence in ((0.8, 0.9), (0.9, 0.95), (0.95, 0.95), (0.9, 0.99))
        ],
    },
)
