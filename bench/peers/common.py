"""What every peer of the settings map shares: the file, the grid, and taking turns.

The job: how many SpO2-low signals, and how many seconds of signal (lost time left out), for limits 70-100 % by one and delays 0-300 s by one, on one row a second in whole
percent, with the standard validity rules, a gap tolerance of 5 s, losses bridged up to 60 s and a clear margin of 2.
Cells with limit + margin > 100 are null (-1). Answer: int64, signals then seconds, each limits x delays.
"""
import sys
import time

import numpy as np

LIMITS = list(range(70, 101))
DELAYS = list(range(0, 301))
MARGIN = 2
HOLD = 6          # period + gap tolerance, in rows
RETURN_WITHIN = 60


def load(path):
    """Rows in hundredths of a percent; -32768 is a row without a number."""
    return np.fromfile(path, dtype="<i2")


def serve(version, run, counts):
    """Answers one line at a time: 'version', 'run' (seconds), 'counts PATH' (writes the answer)."""
    for line in sys.stdin:
        word, _, rest = line.strip().partition(" ")
        if word == "version":
            print(version, flush=True)
        elif word == "run":
            start = time.perf_counter()
            run()
            print(repr(time.perf_counter() - start), flush=True)
        elif word == "counts":
            np.asarray(counts(), dtype="<i8").tofile(rest)
            print("written", flush=True)
