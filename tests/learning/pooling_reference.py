#!/usr/bin/python3
"""Partial pooling of two published data sets by SciPy, apart from Lagline's code.

Prints what tests/learning/pooling_reference.txt holds.  Run again (Debian: python3-scipy):

    /usr/bin/python3 tests/learning/pooling_reference.py > tests/learning/pooling_reference.txt

Eight schools: Rubin 1981, Estimation in parallel randomized experiments, Journal of Educational
Statistics 6, 377-401, as printed in Gelman et al., Bayesian Data Analysis, section 5.5.
Batting: Efron & Morris 1975, Data analysis using Stein's estimator and its generalizations, Journal
of the American Statistical Association 70, 311-319: averages of 18 players after 45 times at bat.

Three things are calculated:
  reml    the variance between groups that maximises the marginal likelihood of the observations,
          written as one multivariate normal with the common mean integrated out (a dense covariance
          matrix, not the sums over groups that Lagline uses), by scipy.optimize.minimize_scalar
  pooled  shrinkage, mean and variance by Morris 1983 from that variance, in matrix form
  bayes   posterior mean and standard deviation with flat priors of mean and standard deviation
          between groups, by scipy.integrate.quad: another model of the same thing, to see how far
          empirical Bayes is from it
"""
import numpy as np
from scipy import integrate, optimize

SETS = {
    "schools": ([28, 8, -3, 7, -1, 1, 18, 12], [15, 10, 16, 11, 9, 11, 10, 18]),
    "batting": (
        [0.400, 0.378, 0.356, 0.333, 0.311, 0.311, 0.289, 0.267, 0.244,
         0.244, 0.222, 0.222, 0.222, 0.222, 0.222, 0.200, 0.178, 0.156],
        None,
    ),
    # Not published: unequal variances with a spread that is far from 0.
    "unequal": ([-1.3, 0.4, -0.2, 0.9, -0.6, 0.1], [0.20, 0.35, 0.15, 0.50, 0.25, 0.10]),
}


def minus_log_likelihood(between, y, variance):
    """Restricted likelihood by the contrasts that are free of the common mean."""
    k = len(y)
    contrasts = np.eye(k)[1:] - np.eye(k)[0]  # y[i] - y[0]
    covariance = contrasts @ np.diag(variance + between) @ contrasts.T
    z = contrasts @ y
    return 0.5 * (np.linalg.slogdet(covariance)[1] + z @ np.linalg.solve(covariance, z))


def reml(y, variance):
    upper = 4 * np.ptp(y) ** 2
    starts = upper * np.linspace(0, 1, 201) ** 3
    best = min(starts, key=lambda a: minus_log_likelihood(a, y, variance))
    found = optimize.minimize_scalar(
        lambda root: minus_log_likelihood(root**2, y, variance),
        bracket=(0.5 * np.sqrt(best), np.sqrt(best) + 1e-3 * np.sqrt(upper)),
        options={"xtol": 1e-12},
    )
    a = found.x**2
    return 0.0 if minus_log_likelihood(0.0, y, variance) <= found.fun + 1e-13 else a


def morris(y, variance, between):
    k = len(y)
    inverse = np.linalg.inv(np.diag(variance + between))
    ones = np.ones(k)
    common = ones @ inverse @ y / (ones @ inverse @ ones)
    shrink = (k - 3) / (k - 1) * variance / (variance + between)
    mean = (1 - shrink) * y + shrink * common
    typical = ones @ inverse @ variance / (ones @ inverse @ ones)
    doubt = 2 / (k - 3) * shrink**2 * (typical + between) / (variance + between)
    spread = variance * (1 - (k - 1) / k * shrink) + doubt * (y - common) ** 2
    return common, shrink, mean, spread


def bayes(y, variance):
    def terms(tau):
        weight = 1 / (variance + tau**2)
        total = weight.sum()
        common = (weight * y).sum() / total
        log = -0.5 * np.log(total) + 0.5 * np.log(weight).sum() - 0.5 * (weight * (y - common) ** 2).sum()
        keep = tau**2 / (variance + tau**2)
        mean = keep * y + (1 - keep) * common
        spread = keep * variance + (1 - keep) ** 2 / total
        return log, mean, spread

    top = max(terms(t)[0] for t in np.linspace(1e-6, 3 * np.ptp(y), 400))

    def moment(f):
        return integrate.quad(
            lambda tau: np.exp(terms(tau)[0] - top) * f(*terms(tau)[1:]), 0, 100 * np.ptp(y), limit=2000
        )[0]

    norm = moment(lambda m, s: 1.0)
    mean = np.array([moment(lambda m, s, i=i: m[i]) for i in range(len(y))]) / norm
    square = np.array([moment(lambda m, s, i=i: s[i] + m[i] ** 2) for i in range(len(y))]) / norm
    return mean, np.sqrt(square - mean**2)


for name, (values, errors) in SETS.items():
    y = np.array(values, dtype=float)
    if errors is None:  # binomial, at the mean of all: Efron & Morris 1977
        errors = [np.sqrt(y.mean() * (1 - y.mean()) / 45)] * len(y)
    variance = np.array(errors, dtype=float) ** 2
    between = reml(y, variance)
    common, shrink, mean, spread = morris(y, variance, between)
    full, deviation = bayes(y, variance)
    print(f"{name} between {between:.10g} common {common:.10g}")
    for i in range(len(y)):
        print(
            f"{name} {y[i]:.10g} {variance[i]:.12g} {shrink[i]:.10g} {mean[i]:.10g} {spread[i]:.10g}"
            f" {full[i]:.6g} {deviation[i]:.6g}"
        )
