#!/usr/bin/env python3
"""Agreement between the four reference oximeters of the controlled desaturations, computed apart from the program, with numpy.

Run: python3 test/Stillwatch.Tests/Physiology/independent_agreement.py ../shared/data/controlled-desaturation/numerics
Prints the table that AgreementTests.cs holds: tested-reference | pairs | bias | SD (n-1) | SD (n) | RMS | limits where the truth varies

Rows in which all four show more than 40 %. Tested minus reference, in % SpO2; a subject is a file.
"""
import csv
import itertools
import pathlib
import sys

import numpy as np

OXIMETERS = [1, 2, 4, 5]  # number and column; 3 is unfilled


def number(cell):
    try:
        return float(cell)
    except ValueError:
        return np.nan


def rows(path):
    with open(path, encoding="utf-8-sig", newline="") as file:
        for cells in itertools.islice(csv.reader(file), 1, None):
            values = [number(cells[column]) if column < len(cells) else np.nan for column in OXIMETERS]
            if all(value > 40 for value in values):
                yield values


def main(folder):
    subjects = [np.array(list(rows(path))) for path in sorted(pathlib.Path(folder).glob("*.csv"))]
    for first, second in itertools.combinations(range(4), 2):
        groups = [s[:, first] - s[:, second] for s in subjects]
        d = np.concatenate(groups)
        n, k = d.size, len(groups)
        m = np.array([g.size for g in groups])
        within = sum(g.var() * g.size for g in groups) / (n - k)
        between = sum(g.size * (g.mean() - d.mean()) ** 2 for g in groups) / (k - 1)
        total = within + (between - within) / ((n * n - (m * m).sum()) / ((k - 1) * n))
        print(f"{OXIMETERS[first]}-{OXIMETERS[second]} | {n} | {d.mean():.6f} | {d.std(ddof=1):.6f} | {d.std():.6f} | {np.sqrt((d * d).mean()):.6f} | "
              f"{d.mean() - 1.96 * np.sqrt(total):.6f} | {d.mean() + 1.96 * np.sqrt(total):.6f}")


if __name__ == "__main__":
    main(sys.argv[1])
