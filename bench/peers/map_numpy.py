"""(c) A vectorised run-length sweep: whole columns at a time, limit by limit, all delays of a limit at once.

Lost seconds are taken out, then each limit needs its runs, those that are longer than every earlier one of their stretch under
limit + margin, and three histograms. 'rows' sweeps the column as it is; 'pieces' first draws equal neighbours together, which is the settings map's own
idea and makes the columns six times shorter. Usage: map_numpy.py FILE rows|pieces
"""
import sys

import numpy as np

import common


def condition(rows):
    """Values of the seconds that have one, and where among them a loss of more than a minute lies before."""
    t = np.flatnonzero((rows > 0) & (rows <= 10_000))
    v = rows[t].astype(np.int32)
    # The jump rule looks back at the last accepted value: rows that jump from their neighbour are few, those are walked.
    doubted = np.zeros(len(t), dtype=bool)
    jumps = np.flatnonzero((np.abs(np.diff(v)) > 1000 * np.diff(t)) & (np.diff(t) <= 3)) + 1
    settled = 0
    for j in jumps:
        if j <= settled:
            continue
        last = j - 1
        while j < len(t) and t[j] - t[last] <= 3 and abs(v[j] - v[last]) > 1000 * (t[j] - t[last]):
            doubted[j] = True
            j += 1
        settled = j
        # what follows may jump from the value now accepted; its neighbour test above holds again from here on
    t, v = t[~doubted], v[~doubted]
    v = (v + 50) // 100
    gaps = np.diff(t, append=len(rows))
    held = np.minimum(gaps, common.HOLD)
    parted = np.concatenate(([False], gaps[:-1] - common.HOLD > common.RETURN_WITHIN))
    return v, held, parted


def counts_of(rows, joins):
    v, held, parted = condition(rows)
    # A part of a day that follows a long loss is set off by a value of no length that ends everything.
    at = np.flatnonzero(parted)
    v = np.insert(v, at, 1000)
    held = np.insert(held, at, 0)
    change = np.flatnonzero(np.concatenate(([True], v[1:] != v[:-1]))) if joins else np.arange(len(v))
    value = np.concatenate((v[change], [1000])).astype(np.int16)
    start = np.concatenate(([0], np.cumsum(held)))[np.concatenate((change, [len(v)]))]

    n_delays = len(common.DELAYS)
    out = np.full((2, len(common.LIMITS), n_delays), -1, dtype=np.int64)
    delays = np.arange(n_delays)
    for row, limit in enumerate(common.LIMITS):
        if limit + common.MARGIN > 100:
            continue
        below = value < limit
        edge = np.flatnonzero(below[1:] != below[:-1]) + 1
        if below[0]:
            edge = np.concatenate(([0], edge))
        first, after = edge[0::2], edge[1::2]
        if len(first) == 0:
            out[:, row] = 0
            continue
        begin = start[first]
        length = np.minimum(start[after] - begin, n_delays)
        clear = np.flatnonzero(value >= limit + common.MARGIN)
        stretch = np.searchsorted(clear, first)
        # The longest run so far, begun anew in each stretch: lengths lifted by the stretch's number never sink.
        lifted = length + stretch * (n_delays + 1)
        longest = np.maximum.accumulate(lifted)
        before = np.concatenate(([-1], longest[:-1]))
        shorter = np.maximum(before - stretch * (n_delays + 1), 0)
        record = lifted > before
        last = np.flatnonzero(np.concatenate((stretch[1:] != stretch[:-1], [True])))
        top = longest[last] - stretch[last] * (n_delays + 1)
        signals = np.bincount(top, minlength=n_delays + 1)
        ends = np.bincount(top, weights=start[clear[stretch[last]]], minlength=n_delays + 1)
        starts = np.bincount(length[record], weights=begin[record], minlength=n_delays + 1)
        starts -= np.bincount(shorter[record], weights=begin[record], minlength=n_delays + 1)
        out[0, row] = np.cumsum(signals[::-1])[::-1][1:]
        out[1, row] = np.cumsum((ends - starts)[::-1])[::-1][1:] - out[0, row] * delays
    return out


def main():
    rows = common.load(sys.argv[1])
    joins = {"rows": False, "pieces": True}[sys.argv[2]]
    common.serve(f"numpy {np.__version__}", lambda: counts_of(rows, joins), lambda: counts_of(rows, joins))


main()
