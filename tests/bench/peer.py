"""What a competent user writes today for the same job: pandas and SciPy over exported A-scans.

    peer.py PATH… [--jobs N] [--tuned] [--wide] [--power-of-two] [--reflect] [--out FILE]

Each capture: read the table; take out the straight line; band-pass 1.5–9 MHz (Butterworth, order 4, forward and
backward); envelope of the analytic signal; peaks at least 5 % high and 5 % prominent; a parabola through three
points for the time between samples; in each gate the highest point, and the first rise through the threshold before it.

--tuned          reads with numpy.loadtxt and does without pandas, which is quicker to start
--wide           one file with many traces, worked on as one array
--power-of-two   transform length as the project takes it (otherwise the length SciPy finds quickest): for comparing figures
--reflect        the record is turned about its end points and faded out beyond them, so that nothing is cut off there;
                 as the project does with long records: for comparing figures
"""

import argparse
import json
import sys
from functools import lru_cache
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from scipy import fft, signal

GATES = {"near": (4.0, 9.5, 12.0), "far": (9.6, 19.0, 8.0)}  # from µs, to µs, threshold %
BAND_MHZ = (1.5, 9.0)
HEIGHT_PERCENT = PROMINENCE_PERCENT = 5.0
PREAMBLE_LINES = 4  # three remarks and the header: what the tuned form knows of its files


def read_table(path, tuned):
    """Traces' names, the times, and the traces as rows of one array."""
    if tuned:
        time, wave = np.loadtxt(path, delimiter=",", skiprows=PREAMBLE_LINES, unpack=True)
        return ["amplitude_pct"], time, wave[np.newaxis]
    import pandas

    table = pandas.read_csv(path, comment="#")
    names = list(table.columns)[1:]
    time = table["time_us"].to_numpy()
    if len(names) == 1:
        return names, time, table[names[0]].to_numpy()[np.newaxis]  # no copy of a long record
    return names, time, np.ascontiguousarray(table.iloc[:, 1:].to_numpy().T)


@lru_cache
def band_pass(rate_mhz):
    return signal.butter(4, BAND_MHZ, btype="bandpass", fs=rate_mhz, output="sos")


REFLECTED = 200_000  # samples at each end: at a fifth of that the fade is still felt, by 5e-9 %
LET_GO, SWING = 64, 32  # samples over which what is added leaves the end point's level for the base line, in two swings that sum to nothing


def reflected(wave):
    """Turned about its end points; the outer half of what is added fades to nothing."""
    level = np.zeros(REFLECTED)
    beyond = np.arange(1, LET_GO + 1)
    level[:LET_GO] = (1 + np.cos(np.pi * beyond / LET_GO)) * np.cos(2 * np.pi * beyond / SWING)
    fade = np.ones(REFLECTED)
    fade[REFLECTED // 2 :] = 0.5 + 0.5 * np.cos(np.linspace(0, np.pi, REFLECTED // 2))
    before = fade * (level * wave[0] - wave[1 : REFLECTED + 1])
    after = fade * (level * wave[-1] - wave[-2 : -REFLECTED - 2 : -1])
    return np.concatenate([before[::-1], wave, after])


def envelopes(waves, rate_mhz, power_of_two, reflect):
    """Along the last axis."""
    count = waves.shape[-1]
    level = signal.detrend(waves)
    if reflect:
        level = reflected(level)
    length = 1 << (level.shape[-1] - 1).bit_length() if power_of_two else fft.next_fast_len(level.shape[-1])
    filtered = signal.sosfiltfilt(band_pass(rate_mhz), level)
    first = REFLECTED if reflect else 0
    return np.abs(signal.hilbert(filtered, length)[..., first : first + count])


def refine(envelope, index):
    """Shift in samples and height of the parabola through three points; works on one index or on many."""
    before, middle, after = envelope[index - 1], envelope[index], envelope[index + 1]
    shift = 0.5 * (before - after) / (before - 2 * middle + after)
    return shift, middle - 0.25 * (before - after) * shift


def read_gate(envelope, start, rate_mhz, gate):
    opens, closes, threshold = gate
    first = max(0, int(np.ceil((opens - start) * rate_mhz - 1e-9)))
    last = min(envelope.size - 1, int(np.floor((closes - start) * rate_mhz + 1e-9)))
    inside = envelope[first : last + 1]
    reached = inside >= threshold
    if not reached.any():
        return {"time_us": None, "amplitude_percent": None, "crossing_us": None}
    highest = int(inside.argmax())
    at_edge = highest in (0, inside.size - 1)
    shift, height = (0.0, inside[highest]) if at_edge else refine(inside, highest)
    crossing = None
    rises = np.flatnonzero(~reached[:-1] & reached[1:])
    if rises.size > 0 and rises[0] < highest:
        below = int(rises[0])
        part = (threshold - inside[below]) / (inside[below + 1] - inside[below])
        crossing = start + (first + below + part) / rate_mhz
    return {
        "time_us": start + (first + highest + shift) / rate_mhz,
        "amplitude_percent": float(height),
        "crossing_us": crossing,
        "at_edge": at_edge,
    }


def evaluate(file, trace, envelope, start, rate_mhz):
    index, found = signal.find_peaks(envelope, height=HEIGHT_PERCENT, prominence=PROMINENCE_PERCENT)
    shift, height = refine(envelope, index)
    echoes = np.column_stack([start + (index + shift) / rate_mhz, height, found["prominences"]])
    gates = {name: read_gate(envelope, start, rate_mhz, gate) for name, gate in GATES.items()}
    return {"file": file, "trace": trace, "samples": envelope.size, "echoes": echoes.tolist(), "gates": gates}


def evaluate_file(task):
    path, options = task
    names, time, waves = read_table(path, options.tuned)
    start = float(time[0])
    rate_mhz = round(float((time.size - 1) / (time[-1] - start)), 6)
    found = np.atleast_2d(envelopes(waves if options.wide else waves[0], rate_mhz, options.power_of_two, options.reflect))
    return [evaluate(path.name, name, envelope, start, rate_mhz) for name, envelope in zip(names, found)]


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paths", nargs="+", type=Path)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--tuned", action="store_true")
    parser.add_argument("--wide", action="store_true")
    parser.add_argument("--power-of-two", action="store_true")
    parser.add_argument("--reflect", action="store_true")
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()

    files = [file for path in options.paths for file in (sorted(path.glob("*.csv")) if path.is_dir() else [path])]
    tasks = [(file, options) for file in files]
    if options.jobs > 1:
        with Pool(options.jobs) as pool:
            results = pool.map(evaluate_file, tasks, chunksize=-(-len(tasks) // options.jobs))
    else:
        results = map(evaluate_file, tasks)
    text = json.dumps({"captures": [capture for file in results for capture in file]})
    if options.out:
        options.out.write_text(text)
    else:
        sys.stdout.write(text + "\n")


if __name__ == "__main__":
    main()
