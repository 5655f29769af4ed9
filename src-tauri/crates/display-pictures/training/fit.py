"""Fits the confidence: python3 fit.py FILE… with lines of `display-pictures weigh`; prints the numbers for weigh.rs.

Readings beside a second row are capped and left out, and photos in which nothing can be read. First the weights of the
terms: logistic regression with a small penalty, by Newton's method. Then what is made of their sum: a constant and two
slopes that meet at KNEE. The figures after it come from five-fold cross-validation.
"""

import sys

import numpy as np

KNEE = 2.5

rows = [line.rstrip("\n").split("\t") for name in sys.argv[1:] for line in open(name)]
rows = [row for row in rows if row[1] and row[2] and row[4] != "0.90000"]
terms = np.array([[float(term) for term in row[7].split(",")] for row in rows])
right = np.array([float(row[3]) for row in rows])


def fit(terms, right, penalty):
    weights = np.zeros(terms.shape[1])
    hold = np.full(terms.shape[1], penalty)
    hold[0] = 0.0
    for _ in range(100):
        share = 1.0 / (1.0 + np.exp(-terms @ weights))
        slope = terms.T @ (right - share) - hold * weights
        curve = (terms * (share * (1 - share))[:, None]).T @ terms + np.diag(hold + 1e-9)
        weights = weights + np.linalg.solve(curve, slope)
    return weights


def bent(sums):
    return np.stack([np.ones_like(sums), sums, np.maximum(0.0, sums - KNEE)], 1)


def both(terms, right):
    weights = fit(terms, right, 1.0)
    return weights, fit(bent(terms @ weights), right, 1e-4)


weights, slopes = both(terms, right)
print("weights", [round(float(weight), 2) for weight in weights])
print("constant and slopes", [round(float(slope), 2) for slope in slopes])
part = np.arange(len(rows)) % 5
share = np.zeros(len(rows))
for at in range(5):
    weights, slopes = both(terms[part != at], right[part != at])
    share[part == at] = 1.0 / (1.0 + np.exp(-bent(terms[part == at] @ weights) @ slopes))
for least in (0.9, 0.95, 0.98, 0.99, 0.995):
    shown = share >= least
    print(f"at {least}: shown {shown.mean():.3f}, wrong of shown {1 - right[shown].mean() if shown.any() else 0:.4f}")
bins = np.minimum((share * 10).astype(int), 9)
print("calibration error", sum(abs(right[bins == b].sum() - share[bins == b].sum()) for b in range(10)) / len(rows))
