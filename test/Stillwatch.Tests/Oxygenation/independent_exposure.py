"""Exposure of the controlled-desaturation recordings, computed row by row without any of this repository's code.

Run: python3 test/Stillwatch.Tests/Oxygenation/independent_exposure.py ../shared/data/controlled-desaturation/numerics
Prints the table that RealRecordingTests.cs holds. Plain Python 3.11, standard library only.

Validity as in rule R2 (0 < value <= 100; a jump of more than 10 a second from the last accepted value, at most 3 s old, is
left out); each accepted value lasts until the next accepted row, at most 6 s (one second and a tolerance of 5 s); rounding
half away from zero. Percentile p: the k-th smallest of the seconds, k = ceil(p/100 * n).
"""
import csv
import decimal
import math
import pathlib
import sys

HALF_UP = decimal.ROUND_HALF_UP


def seconds_of(path, column):
    with open(path, encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.reader(handle))
    index = rows[0].index(column)
    samples = []
    for row in rows[1:]:
        parts = row[0].strip().split(":")
        if len(parts) != 3:
            continue
        time = int(parts[0]) * 3600 + int(parts[1]) * 60 + int(parts[2])
        if samples and time <= samples[-1][0]:
            continue
        try:
            value = decimal.Decimal(row[index])
        except decimal.InvalidOperation:
            value = None
        samples.append((time, value))
    end = samples[-1][0] + 1
    accepted = []
    for time, value in samples:
        if value is None or value <= 0 or value > 100:
            continue
        if accepted:
            since = time - accepted[-1][0]
            if since <= 3 and abs(value - accepted[-1][1]) > 10 * since:
                continue
        accepted.append((time, value))
    seconds = []
    for i, (time, value) in enumerate(accepted):
        until = accepted[i + 1][0] if i + 1 < len(accepted) else end
        shown = int(value.quantize(decimal.Decimal(1), rounding=HALF_UP))
        seconds += [shown] * (min(until, time + 6) - time)
    return sorted(seconds), end - samples[0][0]


def main(folder):
    for name in ("100001", "100002", "100003", "100004"):
        for column in ("SpO2 1", "SpO2 4"):
            seconds, connected = seconds_of(pathlib.Path(folder) / f"{name}.csv", column)
            n = len(seconds)
            below = [sum(v < level for v in seconds) for level in (90, 88, 85, 80)]
            rank = [seconds[math.ceil(p * n / 100) - 1] for p in (1, 5, 50)]
            area = sum(90 - v for v in seconds if v < 90)
            print(name, column, connected, n, *below, f"{sum(seconds) / n:.6f}", *rank, seconds[0], area, sep=" | ")


main(sys.argv[1])
