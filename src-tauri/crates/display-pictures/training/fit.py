"""Fits the confidence: python3 fit.py FILE… with lines of `display-pictures weigh`; prints the weights for weigh.rs.

Only the constant and the mean probability are fitted; readings beside a second row are capped and left out. Logistic
regression with a small penalty, by Newton's method; the figures after it come from five-fold cross-validation.
"""

import sys

import numpy as np

rows = [line.rstrip("\n").split("\t") for name in sys.argv[1:] for line in open(name)]
rows = [row for row in rows if row[2] and row[4] != "0.90000"]
terms = np.array([[float(term) for term in row[7].split(",")[:2]] for row in rows])
right = np.array([float(row[3]) for row in rows])


def fit(terms, right, penalty=0.3):
    weights = np.zeros(terms.shape[1])
    hold = np.full(terms.shape[1], penalty)
    hold[0] = 0.0
    for _ in range(50):
        share = 1.0 / (1.0 + np.exp(-terms @ weights))
        slope = terms.T @ (right - share) - hold * weights
        curve = (terms * (share * (1 - share))[:, None]).T @ terms + np.diag(hold + 1e-6)
        weights = weights + np.linalg.solve(curve, slope)
    return weights


print("weights", [round(float(weight), 3) for weight in fit(terms, right)])
part = np.arange(len(rows)) % 5
share = np.zeros(len(rows))
for at in range(5):
    weights = fit(terms[part != at], right[part != at])
    share[part == at] = 1.0 / (1.0 + np.exp(-terms[part == at] @ weights))
for least in (0.9, 0.95, 0.98, 0.99, 0.995):
    shown = share >= least
    print(f"at {least}: shown {shown.mean():.3f}, wrong of shown {1 - right[shown].mean() if shown.any() else 0:.4f}")
bins = np.minimum((share * 10).astype(int), 9)
print("calibration error", sum(abs(right[bins == b].sum() - share[bins == b].sum()) for b in range(10)) / len(rows))
