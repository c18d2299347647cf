#!/usr/bin/env python3
"""A second reading of light, in numpy and scipy, compared with what the program prints.

    light_twin.py PROGRAM [--data DIR] [--only TEXT] [--keep FOLDER]

PROGRAM is the built program (a .dll is started with dotnet). DIR holds the open recordings (default: STILLWATCH_DATA,
else ../shared/data beside the checkout). Nothing here was written by looking at the program's source: light is drawn
from the law of Beer and Lambert with a ratio, a pulse and a perfusion that are known, and read again by other means than
the program's: a Butterworth band-pass run both ways instead of moving means, scipy's find_peaks instead of a detector
of its own, the ratio of the two channels' standard deviations instead of a regression, medians instead of weights.

Compared with `derive --json`, beside the truth and beside this reading: beats (each, within 40 ms of this reading;
none missed, none too many), pulse rate (1 /min; where it changes, 2 /min), SpO2 through the curve that is named (1 %),
perfusion index (trough to peak over the mean, a tenth of itself), nothing shown without samples, no SpO2 from a pleth.
Seconds 10 to the last 10 are compared: what the edges show is the program's own affair.

Curves: 110 - 25 R (textbook approximation, secondary copy); two-species Beer-Lambert with the extinctions of the OMLC
page of Moaveni's data, 660 and 940 nm: HbO2 320 and 1200, Hb 3200 and 800 per (cm M).
Open recordings: BIDMC PPG and Respiration, PhysioNet, doi 10.13026/C2208R, record 01.

Prints what was compared and what differed; exit code 0: no difference, 1: differences, 2: could not run.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
from scipy.signal import butter, find_peaks, sosfiltfilt

HERE = Path(__file__).resolve().parent
RATE = 125
AVERAGING = 8
EDGE = 10


# ---------------------------------------------------------------- light with a known truth

class Drawn:
    """Red and infrared counts of a pulse whose rate, ratio and perfusion are given as functions of time."""

    def __init__(self, name, seconds, rate, ratio, perfusion, seed, breathing=0.002, noise=5e-5, full=200_000):
        random = np.random.default_rng(seed)
        self.name, self.seconds = name, seconds
        self.t = np.arange(int(seconds * RATE)) / RATE
        self.rate = np.broadcast_to(np.asarray(rate(self.t), float), self.t.shape)
        self.ratio = np.broadcast_to(np.asarray(ratio(self.t), float), self.t.shape)
        self.perfusion = np.broadcast_to(np.asarray(perfusion(self.t), float), self.t.shape)
        phase = np.concatenate([[0.3], 0.3 + np.cumsum(self.rate[:-1] / 60 / RATE)]) % 1
        wave = np.exp(-0.5 * ((phase - 0.22) / np.where(phase < 0.22, 0.075, 0.13)) ** 2)
        wave += 0.3 * np.exp(-0.5 * ((phase - 0.55) / 0.11) ** 2)
        pulse = wave * self.perfusion / 100
        # Breathing moves arterial blood alone here, so that the ratio is the same for all that moves.
        pulse = pulse + breathing * 0.5 * np.sin(2 * np.pi * 0.25 * self.t)
        self.infrared = np.rint(full * np.exp(-pulse) * (1 + noise * random.normal(size=self.t.size)))
        self.red = np.rint(0.8 * full * np.exp(-pulse * self.ratio) * (1 + noise * random.normal(size=self.t.size)))
        self.gap = None

    def with_gap(self, start, end):
        self.gap = (start, end)
        return self

    def is_there(self, t):
        return np.ones_like(t, bool) if self.gap is None else (t < self.gap[0]) | (t >= self.gap[1])

    def write(self, path, pleth_only=False):
        there = self.is_there(self.t)
        with open(path, "w") as file:
            file.write("time_s,pleth\n" if pleth_only else "time_s,red,infrared\n")
            for t, red, infrared, present in zip(self.t, self.red, self.infrared, there):
                if not present:
                    continue
                if pleth_only:
                    file.write(f"{t:.3f},{4 - infrared / 50_000:.5f}\n")  # a pleth rises with blood, its zero is anywhere
                else:
                    file.write(f"{t:.3f},{red:.0f},{infrared:.0f}\n")


def constant(value):
    return lambda t: value


def line(first, last, seconds):
    return lambda t: first + (last - first) * t / seconds


DRAWN = [
    Drawn("steady", 120, constant(72), constant(0.6), constant(2.0), 1),
    Drawn("fast and low", 120, constant(130), constant(1.4), constant(1.0), 2),
    Drawn("slow and full", 120, constant(45), constant(0.45), constant(5.0), 3),
    Drawn("falling saturation", 180, constant(80), line(0.5, 1.2, 180), constant(2.0), 4),
    Drawn("rising rate", 180, line(60, 120, 180), constant(0.8), constant(1.5), 5),
    Drawn("weak pulse", 120, constant(90), constant(0.7), constant(0.4), 6, breathing=0.0005),
    Drawn("with a gap", 150, constant(75), constant(0.65), constant(2.0), 7).with_gap(60.0, 85.0),
]


# ---------------------------------------------------------------- the second reading

def curve_linear(ratio):
    return np.clip(110 - 25 * ratio, 0, 100)


def curve_moaveni(ratio):
    return np.clip(100 * (3200 - ratio * 800) / ((3200 - 320) + ratio * (1200 - 800)), 0, 100)


CURVES = {"linear": curve_linear, "beer-lambert-b-660-940": curve_moaveni}


def stretches(t):
    """Index ranges without a gap."""
    breaks = np.flatnonzero(np.diff(t) > 0.1) + 1
    return list(zip(np.concatenate([[0], breaks]), np.concatenate([breaks, [len(t)]])))


class Reading:
    """Beats and the band-passed channels of one stretch without gaps; blood rises."""

    def __init__(self, t, blood, other=None, rate=RATE):
        sections = butter(2, [0.5, 10], btype="band", fs=rate, output="sos")
        self.t = t
        self.pulse = sosfiltfilt(sections, blood - blood.mean())
        self.other = None if other is None else sosfiltfilt(sections, other - other.mean())
        shortest = 0.3 * rate
        peaks, _ = find_peaks(self.pulse, distance=shortest, prominence=1.2 * np.median(np.abs(self.pulse - np.median(self.pulse))) * 1.4826)
        rise = np.gradient(self.pulse, t)
        self.beats, self.sizes = [], []
        for before, peak in zip(np.concatenate([[0], peaks[:-1]]), peaks):
            foot = before + np.argmin(self.pulse[before:peak + 1])
            steep = foot + np.argmax(rise[foot:peak + 1])
            if 0 < steep < len(rise) - 1:
                left, middle, right = rise[steep - 1:steep + 2]
                bend = left - 2 * middle + right
                self.beats.append(t[steep] + (0.5 * (left - right) / bend if bend < 0 else 0) / rate)
                # What the band-pass takes off the height is no convention of anybody: the raw blood, with the breath below it taken as a line.
                nearby = slice(max(0, foot - 2), foot + 3)
                self.sizes.append(blood[max(0, peak - 2):peak + 3].max() - blood[nearby].min())
        self.beats, self.sizes = np.array(self.beats), np.array(self.sizes)

    def rate_around(self, middle):
        inside = self.beats[np.abs(self.beats - middle) <= AVERAGING / 2]
        return 60 / np.median(np.diff(inside)) if len(inside) >= 3 else np.nan

    def ratio_around(self, middle):
        inside = np.abs(self.t - middle) <= AVERAGING / 2
        return self.other[inside].std() / self.pulse[inside].std()

    def perfusion_around(self, middle):
        inside = np.abs(self.beats - middle) <= AVERAGING / 2
        return 100 * np.median(self.sizes[inside]) if inside.any() else np.nan


# ---------------------------------------------------------------- the comparison

class Comparison:
    def __init__(self, program):
        self.program = ["dotnet", program] if program.endswith(".dll") else [program]
        self.compared, self.different = 0, []

    def derive(self, path, *options):
        done = subprocess.run([*self.program, "derive", str(path), "--json", *options], capture_output=True, text=True)
        if done.returncode != 0:
            raise RuntimeError(f"derive {path.name} {' '.join(options)} ended with {done.returncode}: {done.stderr.strip()[:400]}")
        return json.loads(done.stdout)

    def near(self, name, what, printed, expected, tolerance):
        self.compared += 1
        if printed is None or not abs(printed - expected) <= tolerance:
            self.different.append(f"{name}: {what}: found {printed}, expected {expected:.3f} within {tolerance:.3f}")

    def true(self, name, what, holds):
        self.compared += 1
        if not holds:
            self.different.append(f"{name}: {what}")

    def beats(self, name, printed, expected, first, last, tolerance=0.04):
        printed, expected = np.asarray(printed, float), np.asarray(expected, float)
        ours = expected[(expected > first) & (expected < last)]
        for beat in ours:
            nearest = printed[np.argmin(np.abs(printed - beat))] if len(printed) else np.inf
            self.near(name, f"beat at {beat:.3f} s", nearest, beat, tolerance)
        theirs = int(((printed > first) & (printed < last)).sum())
        self.true(name, f"found {theirs} beats between {first} and {last} s, expected {len(ours)}", abs(theirs - len(ours)) <= (0 if tolerance < 0.05 else 1))

    def light(self, drawn, path, curve):
        drawn.write(path)
        page = self.derive(path, "--curve", curve)
        seconds = page["perSecond"]
        name = f"{drawn.name}, {curve}"
        self.true(name, f"found {page['secondsTotal']} seconds, expected {drawn.seconds}", page["secondsTotal"] == drawn.seconds)
        there = drawn.is_there(drawn.t)
        t = drawn.t[there]
        blood, other = -np.log(drawn.infrared[there]), -np.log(drawn.red[there])
        steps = np.abs(np.diff(drawn.rate)).max() > 0
        for start, end in stretches(t):
            reading = Reading(t[start:end], blood[start:end], other[start:end])
            first, last = int(np.ceil(t[start])) + EDGE, int(t[end - 1]) - EDGE
            self.beats(name, page["beats"], reading.beats, first, last)
            for second in range(first, last):
                middle = second + 0.5
                at = int(middle * RATE)
                self.near(name, f"pulse rate of second {second}, truth", seconds["pulseRate"][second], drawn.rate[at], 2 if steps else 1)
                self.near(name, f"pulse rate of second {second}, this reading", seconds["pulseRate"][second], reading.rate_around(middle), 2 if steps else 1)
                self.near(name, f"SpO2 of second {second}, truth", seconds["spo2"][second], float(CURVES[curve](drawn.ratio[at])), 1)
                self.near(name, f"SpO2 of second {second}, this reading", seconds["spo2"][second], float(CURVES[curve](reading.ratio_around(middle))), 1)
                self.near(name, f"perfusion of second {second}, this reading", seconds["perfusion"][second], reading.perfusion_around(middle), 0.1 * reading.perfusion_around(middle))
                self.true(name, f"state of second {second}: found {seconds['state'][second]}", seconds["state"][second] == "valid")
        if drawn.gap is not None:
            for second in range(int(drawn.gap[0]) + 1, int(drawn.gap[1]) - 1):
                self.true(name, f"second {second} of the gap shows something", all(seconds[key][second] is None for key in ("pulseRate", "spo2", "perfusion")))
            self.true(name, "a beat in the gap", not any(drawn.gap[0] + 0.1 < beat < drawn.gap[1] - 0.1 for beat in page["beats"]))
        valid = sum(state == "valid" for state in seconds["state"])
        self.true(name, f"found {page['secondsValid']} valid seconds, the states count {valid}", page["secondsValid"] == valid)

    def pleth(self, drawn, path):
        drawn.write(path, pleth_only=True)
        page = self.derive(path)
        name = f"{drawn.name}, as a pleth"
        self.true(name, "SpO2 from a pleth", all(value is None for value in page["perSecond"]["spo2"]))
        self.true(name, "perfusion from a pleth of unknown zero", all(value is None for value in page["perSecond"]["perfusion"]))
        reading = Reading(drawn.t, -drawn.infrared / 50_000)
        self.beats(name, page["beats"], reading.beats, EDGE, drawn.seconds - EDGE)
        for second in range(EDGE, drawn.seconds - EDGE):
            self.near(name, f"pulse rate of second {second}", page["perSecond"]["pulseRate"][second], drawn.rate[int((second + 0.5) * RATE)], 2 if np.ptp(drawn.rate) > 0 else 1)

    def icu(self, path):
        """A real pleth: two ways of finding beats agree in nearly all of them, and in the rate of nearly every second."""
        name = "icu-plethysmogram record 01"
        page = self.derive(path, "--map", "pleth=PLETH,time=none", "--period", "0.008")
        pleth = np.genfromtxt(path, delimiter=",", skip_header=1, usecols=2)
        reading = Reading(np.arange(len(pleth)) / RATE, pleth)
        printed = np.asarray(page["beats"], float)
        ours = reading.beats[(reading.beats > EDGE) & (reading.beats < len(pleth) / RATE - EDGE)]
        found = sum(np.abs(printed - beat).min() <= 0.06 for beat in ours)
        self.true(name, f"{found} of {len(ours)} beats of this reading are in the program's {len(printed)}; expected 97 %", found >= 0.97 * len(ours) and abs(len(printed) - len(reading.beats)) <= 0.03 * len(printed))
        apart = [abs(rate - reading.rate_around(second + 0.5)) for second, rate in enumerate(page["perSecond"]["pulseRate"]) if rate is not None and EDGE <= second < len(pleth) / RATE - EDGE]
        self.true(name, f"pulse rates: median {np.median(apart):.2f} /min apart, expected 1", np.median(apart) <= 1)
        self.true(name, f"found {len(apart)} seconds with a pulse rate, expected most of 480", len(apart) > 380)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("program")
    parser.add_argument("--data", default=os.environ.get("STILLWATCH_DATA") or str(HERE.parent.parent.parent / "shared" / "data"))
    parser.add_argument("--only", default="", help="only light whose name holds this")
    parser.add_argument("--keep", help="a folder for the drawn light")
    arguments = parser.parse_args()

    comparison = Comparison(arguments.program)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(arguments.keep or scratch)
        folder.mkdir(parents=True, exist_ok=True)
        work = [(drawn.name, lambda d=drawn, c=curve: comparison.light(d, folder / (d.name.replace(" ", "-") + ".csv"), c))
                for number, drawn in enumerate(DRAWN) for curve in list(CURVES)[number % 2:number % 2 + 1]]
        work += [(drawn.name, lambda d=drawn: comparison.pleth(d, folder / (d.name.replace(" ", "-") + "-pleth.csv"))) for drawn in (DRAWN[0], DRAWN[4])]
        record = Path(arguments.data) / "icu-plethysmogram" / "bidmc_01_Signals.csv"
        if record.is_file():
            work.append(("icu", lambda: comparison.icu(record)))
        elif os.environ.get("CI") == "true":
            print(f"found no {record}, expected the open recordings; CI=true", file=sys.stderr)
            return 2
        else:
            print(f"found no {record}: the open recording is not compared")
        for name, run in work:
            if arguments.only not in name:
                continue
            before, compared = len(comparison.different), comparison.compared
            try:
                run()
            except (RuntimeError, KeyError, IndexError, TypeError, json.JSONDecodeError) as problem:
                comparison.different.append(f"{name}: {problem!r}")
            print(f"{name}: {comparison.compared - compared} compared, {len(comparison.different) - before} different")

    for difference in comparison.different[:40]:
        print("  " + difference)
    print(f"{comparison.compared} compared, {len(comparison.different)} different")
    return 1 if comparison.different else 0


if __name__ == "__main__":
    sys.exit(main())
