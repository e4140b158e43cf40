"""Makes the benchmark's input: synthetic pulse-echo records of steel plates, seeded.

    generate.py FOLDER SET…      SET: captures | many-captures | long | wide

    captures/       1,000 files of 2,000 samples
    many-captures/  5,000 files of 2,000 samples, the first 1,000 those of captures/
    long.csv        one file of 10,000,000 rows: 1,000 shots of 10,000 samples in one record
    wide.csv        one file of 500 traces of 4,000 samples
"""

import os
import sys

import numpy as np

RATE_MHZ = 100.0
FREQUENCY_MHZ = 5.0
BANDWIDTH = 0.6  # of the centre frequency, at half height
SIGMA_US = np.sqrt(2 * np.log(2)) / (np.pi * BANDWIDTH * FREQUENCY_MHZ)
VELOCITY_MM_PER_US = 5.92
ZERO_OFFSET_US = 0.5


def ring_down(time):
    """The main bang: two and a half screens high at first, gone after some 3 µs."""
    return 250 * np.exp(-time / 0.4) * np.sin(2 * np.pi * FREQUENCY_MHZ * time)


def back_walls(time, thickness, count, first_percent):
    """Multiples of the back wall, each at two thirds of the one before."""
    wave = np.zeros_like(time)
    for n in range(1, count + 1):
        arrival = ZERO_OFFSET_US + 2 * n * thickness / VELOCITY_MM_PER_US
        near = np.abs(time - arrival) < 7 * SIGMA_US
        t = time[near] - arrival
        height = first_percent * (2 / 3) ** (n - 1)
        wave[near] += height * np.exp(-(t**2) / (2 * SIGMA_US**2)) * np.cos(2 * np.pi * FREQUENCY_MHZ * t)
    return wave


def grain(random, time):
    """Noise with the probe's own spectrum, 1 % rms at first, dying away."""
    half = int(3.5 * SIGMA_US * RATE_MHZ)
    t = np.arange(-half, half + 1) / RATE_MHZ
    shape = np.exp(-(t**2) / (2 * SIGMA_US**2)) * np.cos(2 * np.pi * FREQUENCY_MHZ * t)
    coloured = np.convolve(random.standard_normal(time.size), shape / np.linalg.norm(shape), mode="same")
    return coloured * np.exp(-time / 25)


def record(random, samples, thickness, echoes, bits=12):
    """One A-scan in per cent of full screen height, limited and quantised over −100 … 100."""
    time = np.arange(samples) / RATE_MHZ
    wave = ring_down(time) + back_walls(time, thickness, echoes, 80 + 4 * random.standard_normal())
    wave += grain(random, time) + 0.3 * random.standard_normal(samples) + random.normal(0, 0.7)
    step = 200 / 2**bits
    return np.clip(np.round(wave / step), -(2 ** (bits - 1)), 2 ** (bits - 1) - 1) * step


def write(path, time, columns, names, note):
    """Formats a block of rows with one format string: quick, and the same text everywhere."""
    table = np.column_stack([time, *columns])
    row = ",".join(["%.2f"] + ["%.4f"] * len(columns)) + "\n"
    rows_at_once = max(1, 100_000 // table.shape[1])
    with open(path, "w", newline="\n") as file:
        file.write(f"# {note}\n# sample_rate_mhz: {RATE_MHZ:g}\n# rectification: rf\n")
        file.write(",".join(["time_us", *names]) + "\n")
        for first in range(0, len(table), rows_at_once):
            block = table[first : first + rows_at_once]
            file.write((row * len(block)) % tuple(block.ravel().tolist()))


def captures(folder, count, existing=None):
    os.makedirs(folder, exist_ok=True)
    time = np.arange(2000) / RATE_MHZ
    for i in range(count):
        name = f"capture-{i:04d}.csv"
        if existing and os.path.exists(os.path.join(existing, name)):
            os.link(os.path.join(existing, name), os.path.join(folder, name))
            continue
        random = np.random.default_rng([11, i])
        wave = record(random, 2000, random.uniform(8.5, 20.5), 3)
        write(os.path.join(folder, name), time, [wave], ["amplitude_pct"], f"plate, place {i}")


def long(path):
    random = np.random.default_rng(12)
    shots = [record(random, 10_000, 24 + 3 * np.sin(i / 60), 6, bits=16) for i in range(1000)]
    wave = np.concatenate(shots)
    write(path, np.arange(wave.size) / RATE_MHZ, [wave], ["amplitude_pct"], "1,000 shots in one record")


def wide(path):
    random = np.random.default_rng(13)
    waves = [record(random, 4000, thickness, 4) for thickness in np.linspace(19, 27, 500)]
    names = [f"place_{i:03d}_pct" for i in range(500)]
    write(path, np.arange(4000) / RATE_MHZ, waves, names, "500 places on a plate")


def main():
    folder, sets = sys.argv[1], sys.argv[2:]
    os.makedirs(folder, exist_ok=True)
    make = {
        "captures": lambda path: captures(path, 1000),
        "many-captures": lambda path: captures(path, 5000, existing=os.path.join(folder, "captures")),
        "long": long,
        "wide": wide,
    }
    for name in sets:
        target = os.path.join(folder, name if name.endswith("captures") else f"{name}.csv")
        # Made under another name first, so that a run broken off leaves nothing that looks whole.
        unfinished = f"{target}.unfinished-{os.getpid()}"
        make[name](unfinished)
        os.rename(unfinished, target)


if __name__ == "__main__":
    main()
