"""(d) The ordinary per-setting loop of map_pure.py, compiled beforehand by numba, one thread; and, as an extra, a compiled
sweep limit by limit that takes all delays at once. Usage: map_numba.py FILE loop|sweep
"""
import sys

import numba
import numpy as np

import common
import map_pure

HOLD = common.HOLD
RETURN_WITHIN = common.RETURN_WITHIN
MARGIN = common.MARGIN
FIRST_LIMIT = common.LIMITS[0]
N_LIMITS = len(common.LIMITS)
N_DELAYS = len(common.DELAYS)


@numba.njit(numba.int16[:](numba.int16[:]), cache=False)
def condition(rows):
    values = np.empty(len(rows), np.int16)
    accepted_at, accepted, held = -1_000_000, 0, -1
    for t in range(len(rows)):
        hundredths = np.int64(rows[t])
        since = t - accepted_at
        if 0 < hundredths <= 10_000 and (since > 3 or abs(hundredths - accepted) <= 1000 * since):
            accepted_at, accepted = t, hundredths
            held = (hundredths + 50) // 100
        values[t] = held if t - accepted_at < HOLD else -1
    return values


# The very loop of map_pure.py.
count = numba.njit(numba.types.UniTuple(numba.int64, 2)(numba.int16[:], numba.int64, numba.int64))(map_pure.count)


@numba.njit(numba.int64[:, :, :](numba.int16[:]))
def loop(rows):
    values = condition(rows)
    out = np.full((2, N_LIMITS, N_DELAYS), -1, np.int64)
    for i in range(N_LIMITS):
        if FIRST_LIMIT + i + MARGIN > 100:
            continue
        for d in range(N_DELAYS):
            out[0, i, d], out[1, i, d] = count(values, FIRST_LIMIT + i, d)
    return out


@numba.njit(numba.int64[:, :, :](numba.int16[:]))
def sweep(rows):
    values = condition(rows)
    out = np.full((2, N_LIMITS, N_DELAYS), -1, np.int64)
    for i in range(N_LIMITS):
        limit = FIRST_LIMIT + i
        clear = limit + MARGIN
        if clear > 100:
            continue
        signals = np.zeros(N_DELAYS + 1, np.int64)
        seconds = np.zeros(N_DELAYS + 1, np.int64)
        now = 0
        run = 0
        longest = 0
        lost = 0
        for value in values:
            if value < 0:
                lost += 1
                continue
            if lost:
                if lost > RETURN_WITHIN:
                    if run > longest:
                        seconds[min(run, N_DELAYS)] -= now - run
                        seconds[min(longest, N_DELAYS)] += now - run
                        longest = run
                    signals[min(longest, N_DELAYS)] += 1
                    seconds[min(longest, N_DELAYS)] += now
                    run = 0
                    longest = 0
                lost = 0
            if value < limit:
                run += 1
            else:
                if run > longest:
                    seconds[min(run, N_DELAYS)] -= now - run
                    seconds[min(longest, N_DELAYS)] += now - run
                    longest = run
                run = 0
                if value >= clear and longest > 0:
                    signals[min(longest, N_DELAYS)] += 1
                    seconds[min(longest, N_DELAYS)] += now
                    longest = 0
            now += 1
        if run > longest:
            seconds[min(run, N_DELAYS)] -= now - run
            seconds[min(longest, N_DELAYS)] += now - run
            longest = run
        signals[min(longest, N_DELAYS)] += 1
        seconds[min(longest, N_DELAYS)] += now
        total = 0
        sums = 0
        for d in range(N_DELAYS - 1, -1, -1):
            total += signals[d + 1]
            sums += seconds[d + 1]
            out[0, i, d] = total
            out[1, i, d] = sums - total * d
    return out


def main():
    rows = common.load(sys.argv[1])
    chosen = {"loop": loop, "sweep": sweep}[sys.argv[2]]
    common.serve(f"numba {numba.__version__}", lambda: chosen(rows), lambda: chosen(rows))


main()
