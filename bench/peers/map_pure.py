"""(b) The ordinary loop: one setting after the other, every row of the day, plain Python.

Rows are conditioned once; the loop over the settings starts from that. A stated subsample of the settings is timed.
Usage: map_pure.py FILE EVERY    (every EVERY-th setting is run)
"""
import platform
import sys

import common

LOST = -1


def condition(rows):
    """One value a second, or LOST."""
    values = []
    accepted_at, accepted, held = None, 0, 0
    for t, hundredths in enumerate(rows):
        valid = 0 < hundredths <= 10_000
        if valid and accepted_at is not None and t - accepted_at <= 3:
            valid = abs(hundredths - accepted) <= 1000 * (t - accepted_at)
        if valid:
            accepted_at, accepted = t, hundredths
            held = (hundredths + 50) // 100
        values.append(held if accepted_at is not None and t - accepted_at < common.HOLD else LOST)
    return values


def count(values, limit, delay):
    """Signals, and seconds of signal, of one setting."""
    clear = limit + common.MARGIN
    signals = active = run = lost = 0
    signalling = False
    for value in values:
        if value < 0:
            lost += 1
            continue
        if lost:
            if lost > common.RETURN_WITHIN:
                run = 0
                signalling = False
            lost = 0
        if value < limit:
            run += 1
            if run > delay and not signalling:
                signalling = True
                signals += 1
        else:
            run = 0
            if value >= clear:
                signalling = False
        if signalling:
            active += 1
    return signals, active


def main():
    rows = common.load(sys.argv[1]).tolist()
    every = int(sys.argv[2])
    settings = [(limit, delay) for limit in common.LIMITS for delay in common.DELAYS]

    def sweep():
        values = condition(rows)
        return {
            i: count(values, *settings[i]) if settings[i][0] + common.MARGIN <= 100 else (-1, -1)
            for i in range(0, len(settings), every)
        }

    def counts():
        found = sweep()
        return [found.get(i, (-2, -2))[plane] for plane in (0, 1) for i in range(len(settings))]

    common.serve(f"Python {platform.python_version()}", sweep, counts)


if __name__ == "__main__":
    main()
