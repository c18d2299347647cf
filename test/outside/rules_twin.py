#!/usr/bin/env python3
"""A second reading of docs/rules.md, in plain Python, compared with what the program prints.

    rules_twin.py PROGRAM [--data DIR] [--cells N] [--only TEXT]

PROGRAM is the built program (a .dll is started with dotnet). DIR holds the open recordings (default: STILLWATCH_DATA,
else ../shared/data beside the checkout). Nothing here was written by looking at the program's source: it goes from
the rows of a file to the cells of the settings map by the words of the rules (R1-R7, R9, R10, R12, R13) alone, slowly,
in whole milliseconds and exact fractions.

1. Every line of test/rules/rules-cases.txt must come out of this reading.
2. `tune --json` (signals, minutes of signal, missed, late) on drawn cells, and `review --json` (coverage, minutes and
   percent below, mean, least value) must agree on open recordings and on invented ones made to be unkind.

Open recordings: Hoffman et al., npj Digit Med 5:146 (2022), doi 10.1038/s41746-022-00665-y; PhysioNet noneeg 1.0.0
(Birjandtalab et al., IEEE SiPS 2016, ODC-BY 1.0); PhysioNet santa-fe 1.0.0 (data set B). Where the folder is missing, only the
invented recordings are compared, and with CI=true that is a failure.

Prints what was compared and what differed; exit code 0: no difference, 1: differences, 2: could not run.
"""

import argparse
import json
import math
import os
import random
import re
import subprocess
import sys
import tempfile
from fractions import Fraction
from pathlib import Path

SEED = 20261125
HERE = Path(__file__).resolve().parent
RETURN_MS = 60_000
JUMP_MEMORY_MS = 3_000
# Adult default of the program (unit policy, no source): at or below 85 for 60 s, or below 80 for 15 s.
MUST_CATCH = [(85, True, 60_000), (80, False, 15_000)]


# ---------------------------------------------------------------- the rules

class Settings:
    def __init__(self, averaging=0, gap=5, validity="standard", rounding="display", margin=0):
        self.averaging_ms = round(Fraction(averaging) * 1000)
        self.gap_ms = round(Fraction(gap) * 1000)
        self.validity = validity
        self.rounding = rounding
        self.margin = margin


def half_away_from_zero(value):
    magnitude = abs(value)
    whole = (2 * magnitude.numerator + magnitude.denominator) // (2 * magnitude.denominator)
    return Fraction(-whole if value < 0 else whole)


def period_of(times):
    """R1: the median step, in ms."""
    steps = sorted(b - a for a, b in zip(times, times[1:]))
    if not steps:
        return 1000
    middle = len(steps) // 2
    return steps[middle] if len(steps) % 2 else round(Fraction(steps[middle - 1] + steps[middle], 2))


def valid_samples(rows, validity):
    """R2. rows: (ms, Fraction or None), in order."""
    accepted = []
    last = None
    for at, value in rows:
        if value is None:
            continue
        if validity == "standard":
            if value <= 0 or value > 100:
                continue
            if last is not None and at - last[0] <= JUMP_MEMORY_MS and abs(value - last[1]) * 1000 > 10 * (at - last[0]):
                continue
            last = (at, value)
        accepted.append((at, value))
    return accepted


class Conditioned:
    """R3-R6: what is compared. stretches: [start, end, value, lost_at_end, valid sample in time after the loss]."""

    def __init__(self, rows, settings, period=None):
        self.start = rows[0][0]
        self.period = period if period is not None else period_of([at for at, _ in rows])
        self.end = rows[-1][0] + self.period
        gap = settings.gap_ms
        if self.period > 5000:
            gap = max(gap, self.period)
        hold = self.period + gap
        valid = valid_samples(rows, settings.validity)
        compared = averaged(valid, settings.averaging_ms, self.period, hold)
        if settings.rounding == "display":
            compared = [(at, half_away_from_zero(value)) for at, value in compared]
        self.stretches = []
        next_valid = 0
        for index, (at, value) in enumerate(compared):
            following = compared[index + 1][0] if index + 1 < len(compared) else None
            until = at + hold
            lost = False
            back_in_time = False
            if following is not None and following <= until:
                until = following
            elif until >= self.end:
                until = self.end
            else:
                lost = True
                while next_valid < len(valid) and valid[next_valid][0] <= until:
                    next_valid += 1
                back_in_time = next_valid < len(valid) and valid[next_valid][0] - until <= RETURN_MS
            previous = self.stretches[-1] if self.stretches else None
            if previous is not None and not previous[3] and previous[1] == at and previous[2] == value:
                previous[1], previous[3], previous[4] = until, lost, back_in_time
            else:
                self.stretches.append([at, until, value, lost, back_in_time])


def averaged(valid, window_ms, period, hold):
    """R4. The window is cleared when valid samples are more than P + g apart."""
    if window_ms <= period:
        return valid
    needed = -(-window_ms // (2 * period))
    result, window = [], []
    for at, value in valid:
        if window and at - window[-1][0] > hold:
            window = []
        window.append((at, value))
        window = [sample for sample in window if sample[0] > at - window_ms]
        if len(window) >= needed:
            result.append((at, sum((v for _, v in window), Fraction(0)) / len(window)))
    return result


def signals(series, limit, delay_ms, area, margin, high=False):
    """R7, R9. Returns [start, end, how, [active pieces]]. The threshold is in %.s; how: cleared, lost, end."""
    sign = -1 if high else 1
    bound = sign * Fraction(limit)
    clear = bound + margin
    area_ms = Fraction(area) * 1000
    found = []
    state = "none"
    lasted, grown = 0, Fraction(0)
    current = None
    pending_loss = None  # the instant of a loss whose return is not decided yet
    for start, end, value, lost, back_in_time in series.stretches:
        value = sign * value
        if pending_loss is not None:
            goes_on = pending_loss[1] and (value < clear if state == "signal" else value < bound)
            if not goes_on:
                if state == "signal":
                    current[1:3] = [pending_loss[0], "lost"]
                state = "none"
            pending_loss = None
        if state == "signal" and value >= clear:
            current[1:3] = [start, "cleared"]
            state = "none"
        if state == "run" and value >= bound:
            state = "none"
        if state == "none" and value < bound:
            state, lasted, grown = "run", 0, Fraction(0)
        if state == "signal":
            current[3].append((start, end))
        elif state == "run":
            length = end - start
            depth = bound - value
            if lasted + length > delay_ms and grown + depth * length > area_ms:
                by_delay = start + max(0, delay_ms - lasted)
                by_area = start + max(0, math.floor((area_ms - grown) / depth))
                begin = max(by_delay, by_area)
                current = [begin, None, None, [(begin, end)]]
                found.append(current)
                state = "signal"
            lasted += length
            grown += depth * length
        if lost and state != "none":
            pending_loss = (end, back_in_time)
    if pending_loss is not None:
        if state == "signal":
            current[1:3] = [pending_loss[0], "lost"]
    elif state == "signal":
        current[1:3] = [series.end, "end"]
    return found


def must_catch(rows, gap, validity):
    """R13 on the valid, unaveraged, rounded series. Events: lists of parts (onset, end, T).

    The rule does not say what "valid" is where validity was asked to be `none`; taken here as R2 has it for that case:
    every number as it stands. A loss inside an event is treated as R9 treats a run.
    """
    series = Conditioned(rows, Settings(gap=gap, validity=validity))
    parts = []
    for level, inclusive, needed in MUST_CATCH:
        onset = None
        lasted = 0
        pending = None
        for start, end, value, lost, back_in_time in series.stretches:
            low = value <= level if inclusive else value < level
            if pending is not None and onset is not None and not (pending[1] and low):
                if lasted >= needed:
                    parts.append((onset, pending[0], needed))
                onset = None
            pending = None
            if onset is not None and not low:
                if lasted >= needed:
                    parts.append((onset, start, needed))
                onset = None
            if low:
                if onset is None:
                    onset, lasted = start, 0
                lasted += end - start
            if lost:
                pending = (end, back_in_time)
        if onset is not None and lasted >= needed:
            parts.append((onset, pending[0] if pending else series.end, needed))
    events = []
    for part in sorted(parts):
        if events and part[0] < max(p[1] for p in events[-1]):
            events[-1].append(part)
        else:
            events.append([part])
    return events


def verdict(event, found):
    """2 missed, 1 late, 0 in time; the worst of the parts."""
    pieces = [piece for signal in found for piece in signal[3]]
    worst = 0
    for onset, end, within in event:
        if any(a <= onset + within and b > onset for a, b in pieces):
            part = 0
        elif any(a < end and b > onset for a, b in pieces):
            part = 1
        else:
            part = 2
        worst = max(worst, part)
    return worst


def cell(series, events, limit, delay_s, area, margin):
    if limit + margin > 100:
        return (None, None, None, None)
    found = signals(series, limit, delay_s * 1000, area, margin)
    minutes = sum(b - a for signal in found for a, b in signal[3]) / 60000
    verdicts = [verdict(event, found) for event in events]
    return (len(found), minutes, verdicts.count(2), verdicts.count(1))


def exposure(series):
    held = sum(end - start for start, end, *_ in series.stretches)
    below = {level: sum(end - start for start, end, value, *_ in series.stretches if value < level) for level in (90, 88, 85, 80)}
    return {
        "coverage": held / (series.end - series.start),
        **{f"exposure.minutesBelow.{level}": ms / 60000 for level, ms in below.items()},
        **{f"exposure.percentBelow.{level}": 100 * ms / held for level, ms in below.items()},
        "exposure.mean": float(sum(value * (end - start) for start, end, value, *_ in series.stretches) / held),
        "exposure.min": float(min(value for _, _, value, *_ in series.stretches)),
    }


# ---------------------------------------------------------------- the case table

def check_cases(path):
    good, bad = 0, []
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line.strip() or line.startswith("#"):
            continue
        name, _, text, limit, delay, area, margin, averaging, gap, validity, rounding, expected = [part.strip() for part in line.split("|")]
        step, values = 1000, []
        for token in text.split():
            if token.startswith("@"):
                step = int(Fraction(token[1:]) * 1000)
                continue
            value, _, count = token.partition("*")
            values += [None if value == "." else Fraction(value)] * int(count or 1)
        rows = [(index * step, value) for index, value in enumerate(values)]
        settings = Settings(Fraction(averaging), Fraction(gap), validity, rounding)
        series = Conditioned(rows, settings, period=step)
        found = signals(series, Fraction(limit.lstrip(">")), Fraction(delay) * 1000, Fraction(area), Fraction(margin), limit.startswith(">"))
        got = " ".join(f"{float(Fraction(int(s), 1000)):g}-{float(Fraction(int(e), 1000)):g}:{how}" for s, e, how, _ in found) or "none"
        if got == expected:
            good += 1
        else:
            bad.append(f"case {name}: expected {expected}, this reading gives {got}")
    return good, bad


# ---------------------------------------------------------------- files

def clock_or_seconds(text):
    text = text.strip()
    clock = re.fullmatch(r"(\d{1,2}):(\d{2}):(\d{2}(?:\.\d+)?)", text)
    try:
        seconds = (int(clock[1]) * 3600 + int(clock[2]) * 60 + Fraction(clock[3])) if clock else Fraction(text)
    except ValueError:
        return None
    return round(seconds * 1000)


def read_rows(path, column):
    with open(path, encoding="utf-8-sig") as file:
        header = [name.strip() for name in file.readline().rstrip("\n").split(",")]
        index = header.index(column)
        rows = []
        for line in file:
            cells = line.rstrip("\r\n").split(",")
            at = clock_or_seconds(cells[0])
            if at is None:
                continue
            try:
                value = Fraction(cells[index].strip())
            except ValueError:
                value = None
            rows.append((at, value))
    first = rows[0][0]
    return [(at - first, value) for at, value in rows]


def invented(rng, kind):
    """A recording with one kind of unkindness (and some of the others)."""
    step = {"minute": 60_000, "five": 5_000, "two-hertz": 500}.get(kind, 1000)
    decimals = kind in ("decimals", "uneven", "two-hertz")
    count = {"minute": 500, "five": 900}.get(kind, 2200)
    rows, at, level, target = [], 0, 96.0, 96.0
    while len(rows) < count:
        if rng.random() < (0.25 if step >= 5000 else 0.03):
            target = rng.choice([97, 95, 92, 91, 90, 89, 88, 86, 85, 84, 82, 79, 76, 72])
        level += max(-7, min(7, (target - level) * (0.6 if step >= 5000 else 0.15))) + rng.gauss(0, 0.5)
        value = Fraction(round(min(level, 100) * (10 if decimals else 1)), 10 if decimals else 1)
        draw = rng.random()
        if kind == "jumps" and draw < 0.06:
            value += rng.choice([-31, -30, -21, -20, -11, -10, 10, 11])
        if kind == "dropouts" and draw < 0.05:
            rows += [(at + k * step, Fraction(rng.choice([0, 0, 127, 255, -1]))) for k in range(rng.randint(1, 12))]
            at = rows[-1][0] + step
        if kind in ("gaps", "uneven", "margin", "averaging", "decimals", "two-hertz") and draw < 0.02:
            # Losses begin P + g after the last value: 60 s after that is where a return becomes too late.
            missing = rng.choice([4, 5, 6, 7, 8, 9, 20, 58, 59, 60, 61, 64, 65, 66, 67, 68, 69, 70, 75])
            if rng.random() < 0.5:
                rows += [(at + k * step, None) for k in range(missing * 1000 // step)]
            at += missing * 1000
        if step >= 5000 and draw < 0.06:
            missing = rng.randint(1, 4)
            rows += [(at + k * step, None) for k in range(missing)]
            at += missing * step
        rows.append((at, value))
        at += step
        if kind == "uneven":
            at += rng.choice([0, 0, 0, 0, 0, 1, -1, 250, -333, 500, 1500, 2000, 5001, 6000])
    return rows


def write_rows(path, rows):
    with open(path, "w", encoding="utf-8") as file:
        file.write("time_s,spo2\n")
        for at, value in rows:
            text = "" if value is None else f"{float(value):g}"
            file.write(f"{at // 1000}.{at % 1000:03d},{text}\n")


# ---------------------------------------------------------------- comparison

class Comparison:
    def __init__(self, program, cells):
        self.program = (["dotnet"] if program.endswith(".dll") else []) + [program]
        self.cells = cells
        self.compared, self.different = 0, []

    def run(self, *arguments):
        done = subprocess.run([*self.program, *arguments], capture_output=True, text=True, encoding="utf-8")
        if done.returncode != 0:
            raise RuntimeError(f"exit code {done.returncode} of {' '.join(arguments)}: {done.stderr.strip()[:300]}")
        return json.loads(done.stdout)

    def same(self, where, mine, theirs, tolerance=0.0):
        self.compared += 1
        if mine is None or theirs is None:
            equal = mine is theirs
        else:
            equal = abs(mine - theirs) <= tolerance
        if not equal:
            self.different.append(f"{where}: this reading {mine}, the program {theirs}")

    def recording(self, rng, name, path, column, options, review):
        """options: the words of the command line as a dictionary."""
        words = [text for key, value in options.items() for text in ("--" + key, str(value))]
        margin = options.get("clear-margin", 0)
        gap = options.get("gap-tolerance", 5)
        settings = Settings(options.get("averaging", 0), gap, options.get("validity", "standard"), options.get("rounding", "display"))
        rows = read_rows(path, column)
        series = Conditioned(rows, settings)
        events = must_catch(rows, gap, settings.validity)
        name = f"{name} [{column}] {' '.join(words)}".strip()
        tune = self.run("tune", str(path), "--category", "adult", "--channel", column, "--json", *words)
        self.same(f"{name} must-catch events", len(events), len(tune["mustCatch"]))
        for mine, theirs in zip(events, tune["mustCatch"]):
            self.same(f"{name} onset", mine[0][0] / 1000, theirs["onset"], 1e-9)
            self.same(f"{name} end", max(part[1] for part in mine) / 1000, theirs["end"], 1e-9)
        for which, axis in (("map", "delaysSeconds"), ("areaMap", "areas")):
            table = tune[which]
            for _ in range(self.cells if which == "map" else self.cells // 2):
                row = rng.randrange(len(table["limits"]))
                # Short delays and small areas hold most of what can differ.
                column_ = int(len(table[axis]) * rng.random() ** 2)
                limit, across = table["limits"][row], table[axis][column_]
                mine = cell(series, events, limit, across if which == "map" else 0, 0 if which == "map" else across, margin)
                for key, value in zip(("signals", "signalMinutes", "missed", "late"), mine):
                    if key in table:
                        self.same(f"{name} {which} limit {limit} {axis} {across} {key}", value, table[key][row][column_], 1e-5 if key == "signalMinutes" else 0)
        if review:
            words = [text for key, value in options.items() if key != "clear-margin" for text in ("--" + key, str(value))]
            page = self.run("review", str(path), "--category", "adult", "--channel", column, "--json", *words)
            for key, value in exposure(series).items():
                theirs = page
                for part in key.split("."):
                    theirs = theirs[part]
                self.same(f"{name} review {key}", value, theirs, 1e-6 * max(1.0, abs(value)))


INVENTED = [
    ("gaps", {}),
    ("gaps", {"gap-tolerance": 0}),
    ("gaps", {"gap-tolerance": 8, "clear-margin": 2, "rounding": "none"}),
    ("jumps", {"clear-margin": 1}),
    ("dropouts", {"averaging": 8}),
    ("dropouts", {"validity": "none", "gap-tolerance": 0}),
    ("decimals", {"rounding": "none", "clear-margin": 2}),
    ("decimals", {"rounding": "none", "averaging": 8, "gap-tolerance": 8}),
    ("uneven", {"clear-margin": 2}),
    ("uneven", {"averaging": 16, "rounding": "none"}),
    ("two-hertz", {"averaging": 3, "clear-margin": 1}),
    ("minute", {}),
    ("minute", {"averaging": 180, "clear-margin": 2}),
    ("five", {"averaging": 16}),
    ("five", {"gap-tolerance": 0, "clear-margin": 3}),
]


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("program")
    parser.add_argument("--data", default=os.environ.get("STILLWATCH_DATA") or str(HERE.parent.parent.parent / "shared" / "data"))
    parser.add_argument("--cells", type=int, default=60, help="drawn cells of each map")
    parser.add_argument("--only", default="", help="only recordings whose name holds this")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--keep", help="a folder for the invented recordings")
    arguments = parser.parse_args()

    good, bad = check_cases(HERE.parent / "rules" / "rules-cases.txt")
    print(f"rules-cases.txt: {good} of {good + len(bad)} lines agree with this reading")

    comparison = Comparison(arguments.program, arguments.cells)
    data = Path(arguments.data)
    work = []
    if data.is_dir():
        numerics = data / "controlled-desaturation" / "numerics"
        extra = [{}, {"averaging": 8}, {"clear-margin": 2}, {"rounding": "none", "clear-margin": 1}]
        for number, subject in enumerate(("100001", "100002", "100003", "100004")):
            for turn, channel in enumerate((1, 2, 4, 5)):
                work.append((subject, numerics / f"{subject}.csv", f"SpO2 {channel}", extra[(number + turn) % 4], turn == number))
        for subject in range(1, 11, 2):
            work.append((f"s{subject:02d}", data / "rest-and-stress" / f"s{subject:02d}.csv", "spo2_pct", {}, subject == 1))
        night = data / "sleep-apnoea-nominal" / "night.csv"
        work.append(("night", night, "spo2_nominal_pct_ASSUMED_SCALE", {"clear-margin": 2}, True))
    elif os.environ.get("CI") == "true":
        print(f"found no folder {data}, expected the open recordings; CI=true", file=sys.stderr)
        return 2
    else:
        print(f"found no folder {data}: open recordings are not compared")

    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(arguments.keep or scratch)
        folder.mkdir(parents=True, exist_ok=True)
        for number, (kind, options) in enumerate(INVENTED):
            path = folder / f"{number:02d}-{kind}.csv"
            write_rows(path, invented(random.Random(arguments.seed * 100 + number), kind))
            work.append((path.stem, path, "spo2", options, True))
        for number, (name, path, column, options, review) in enumerate(work):
            if arguments.only not in name:
                continue
            before = len(comparison.different)
            try:
                comparison.recording(random.Random(arguments.seed + number), name, path, column, options, review)
            except (RuntimeError, KeyError, IndexError, json.JSONDecodeError) as problem:
                comparison.different.append(f"{name}: {problem!r}")
            if len(comparison.different) > before:
                print(f"{name} [{column}] {options}: {len(comparison.different) - before} differences")

    for line in bad + comparison.different[:40]:
        print("  " + line)
    print(f"{comparison.compared} compared, {len(comparison.different)} different, {len(bad)} case lines not met")
    return 1 if bad or comparison.different else 0


if __name__ == "__main__":
    sys.exit(main())
