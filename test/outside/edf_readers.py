"""Reads EDF+ and BDF+ files of ours with programs that are not ours, and compares with the plain JSON beside each file.

    /usr/bin/python3 test/outside/edf_readers.py FOLDER

MNE (Debian python3-mne, 1.3.0) and BioSig (Debian biosig-tools, 2.5.0). Exit code 0: all equal; 1: something differs; 3: a
package is missing. Values agree within half a count. What these readers make of the parts that EDF+ leaves to them:

- MNE puts the data records of a discontinuous file (EDF+D) end to end, and cuts the start to the whole second.
- BioSig reports a new segment for every record of such a file, prints times with about 20 microseconds to spare, keeps the place of a
  note as a sample number of its fastest signal, and counts it from the header's second rather than from the first sample.
- Both hand out the codes of our transducer field ("-32768 = no number") as the numbers that they are.
"""

import datetime
import json
import os
import shutil
import subprocess
import sys
import tempfile
import warnings

PACKAGES_MISSING = 3
differences = []


def differ(where, what, found, expected):
    differences.append(f"{where}: {what}: found {found}, expected {expected}")


def equal(where, what, found, expected):
    if found != expected:
        differ(where, what, found, expected)


def near(where, what, found, expected, tolerance):
    if not abs(found - expected) <= tolerance:
        differ(where, what, found, f"{expected} within {tolerance}")


def expected_places(plain, channel, places):
    """What each sample of the file must be, in file order: a row's value, or the value of the code that stands for none."""
    rows = {round(time * 1e6): value for time, value in zip(channel["places"], channel["values"])}
    per_record = places // len(plain["recordStarts"])
    for start in plain["recordStarts"]:
        for i in range(per_record):
            time = round((start + i * plain["recordSeconds"] / per_record) * 1e6)
            if time not in rows:
                yield channel["noRow"]
            else:
                value = rows.pop(time)
                yield channel["noNumber"] if value is None else value
    if rows:
        yield f"{len(rows)} more rows"


def compare_values(where, plain, channel, found, relative=1e-12):
    expected = list(expected_places(plain, channel, len(found)))
    equal(where, "number of samples", len(found), len(expected))
    for i, (one, other) in enumerate(zip(found, expected)):
        if other is None or isinstance(other, str) or not abs(one - other) <= channel["halfCount"] + abs(other) * relative:
            differ(where, f"sample {i}", one, other)
            return


def start_of(plain):
    """Date and time as the header states them; the placeholder where the recording knows less."""
    start = plain["start"]
    if start is None:
        return datetime.datetime(1985, 1, 1)
    return datetime.datetime.fromisoformat(start if "T" in start else "1985-01-01T" + start)


def read_with_mne(mne, path, plain):
    where = f"MNE, {os.path.basename(path)}"
    read = mne.io.read_raw_bdf if path.endswith(".bdf") else mne.io.read_raw_edf
    start = start_of(plain)
    for channel in plain["channels"]:
        with warnings.catch_warnings():
            # A note before the first sample is left out of the raw object, with a warning; read_annotations has it.
            warnings.filterwarnings("ignore", message="Omitted .* annotation")
            # One signal at a time: mixed rates would be resampled to the fastest.
            raw = read(path, include=[channel["label"]], stim_channel=None, preload=True, verbose="ERROR")
        at = f"{where}, {channel['label']}"
        equal(at, "channels", raw.ch_names, [channel["label"]])
        near(at, "rate", raw.info["sfreq"], channel["rate"], 1e-9)
        equal(at, "start", raw.info["meas_date"].replace(tzinfo=None), start.replace(microsecond=0))
        compare_values(at, plain, channel, raw.get_data()[0])
    found = mne.read_annotations(path)
    compare_notes(where, plain, [(a["onset"], a["duration"], a["description"]) for a in found], 0, 1e-6)


def compare_notes(where, plain, found, later, tolerance):
    equal(where, "notes", [text for _, _, text in found], [note["text"] for note in plain["notes"]])
    for (onset, length, text), note in zip(found, plain["notes"]):
        near(where, f"onset of {text!r}", onset, note["time"] + later, tolerance)
        near(where, f"length of {text!r}", length, note["length"], tolerance)


def read_with_biosig(path, plain, folder):
    where = f"BioSig, {os.path.basename(path)}"
    told = subprocess.run(["save2gdf", "-JSON", path], capture_output=True, text=True, check=True, cwd=folder).stdout
    header = json.loads(told[told.index("{"):])
    start = start_of(plain)
    found = datetime.datetime.fromisoformat(header["StartOfRecording"])
    near(where, "start", (found - start).total_seconds(), 0, 0.001)
    equal(where, "type", header["TYPE"], path[-3:].upper())

    signals = header["CHANNEL"]
    scales = scales_of(path)
    equal(where, "signals", len(signals), len(plain["channels"]) + 1)
    for form in ["BIN", "ASCII"]:
        subprocess.run(["save2gdf", f"-f={form}", path, os.path.join(folder, form)], capture_output=True, check=True, cwd=folder)
    for i, (channel, signal) in enumerate(zip(plain["channels"], signals)):
        at = f"{where}, {channel['label']}"
        equal(at, "label", signal["Label"], channel["label"])
        near(at, "rate", signal["Samplingrate"], channel["rate"], 1e-6)
        for name, stated in zip(["PhysicalMinimum", "PhysicalMaximum", "DigitalMinimum", "DigitalMaximum"], scales[i]):
            near(at, name, signal[name], stated, abs(stated) * 6e-6)
        if channel["unit"] == "%":
            equal(at, "unit", signal["PhysicalUnit"], "%")
        if channel["unit"] == "/min":
            equal(at, "unit", signal["PhysicalUnit"], "bpm")
        # Its own values, printed with six figures as the ends of the scale are; and its counts on the very scale of the header.
        with open(os.path.join(folder, f"ASCII.a{i + 1:02}")) as lines:
            compare_values(at + ", as text", plain, channel, [float(line) for line in lines if line.strip()], 6e-6)
        compare_values(at, plain, channel, scaled(os.path.join(folder, f"BIN.s{i + 1:02}"), 3 if path.endswith(".bdf") else 2, scales[i]))

    fastest = header["Samplingrate"]
    notes, breaks = [], 0
    for event in header.get("EVENT", []):
        if event["TYP"] == "0x7ffe":
            breaks += 1
            continue
        # Kept as an unsigned sample number: one before the first sample comes round from the other end.
        position = event["POS"] - 2**32 / fastest if event["POS"] > 2**31 / fastest else event["POS"]
        notes.append((position, event["DUR"], event["Description"]))
    compare_notes(where, plain, notes, start.microsecond / 1e6, 1 / fastest)
    ends = [begin + plain["recordSeconds"] for begin in plain["recordStarts"]]
    is_discontinuous = any(begin != end for begin, end in zip(plain["recordStarts"][1:], ends))
    equal(where, "breaks reported", breaks > 0, is_discontinuous)


def scales_of(path):
    """Both ends of the unit, then of the counts, of every signal: fields of eight characters (EDF specification)."""
    with open(path, "rb") as file:
        head = file.read(256)
        count = int(head[252:256])
        file.seek(256 + count * (16 + 80 + 8))
        fields = [[float(file.read(8)) for _ in range(count)] for _ in range(4)]
    return list(zip(*fields))


def scaled(path, size, scale):
    with open(path, "rb") as file:
        data = file.read()
    physical_low, physical_high, low, high = scale
    counts = (int.from_bytes(data[i:i + size], "little", signed=True) for i in range(0, len(data), size))
    return [physical_low + (count - low) * (physical_high - physical_low) / (high - low) for count in counts]


def main(folder):
    try:
        import mne
    except ImportError:
        print("MNE is missing; on Debian, as root: apt-get install python3-mne")
        return PACKAGES_MISSING
    if shutil.which("save2gdf") is None:
        print("BioSig is missing; on Debian, as root: apt-get install biosig-tools")
        return PACKAGES_MISSING

    files = sorted(f for f in os.listdir(folder) if f.endswith((".edf", ".bdf")))
    for name in files:
        path = os.path.join(os.path.abspath(folder), name)
        with open(path + ".json") as file:
            plain = json.load(file)
        read_with_mne(mne, path, plain)
        with tempfile.TemporaryDirectory() as own:
            read_with_biosig(path, plain, own)

    for line in differences:
        print(line)
    print(f"{len(files)} files, {len(differences)} differences (MNE {mne.__version__}, BioSig)")
    return 1 if differences or not files else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
