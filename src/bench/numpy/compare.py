"""Shiftstand beside a pipeline in numpy, in turns, on one capture; prints a table in Markdown. Called by src/bench/compare.sh.

Read and measure are whole processes, from start to exit, with all cores: each reads the file and writes its table. Measure alone
is one process each on one core, which has read the file before; the first two rounds of each are not counted (Java compiles).
"""

import csv
import statistics
import subprocess
import sys
import time

import numpy

# what both must agree on before any time counts: column, median of the differences allowed, and how many may lie further off
# than the second figure (the pipeline's second-order term is simpler, and it joins rests that creep less than the band)
AGREE = [("landing_deg", 0.1, 0.5), ("overtravel_deg", 0.1, 0.8), ("hold_s", 0.0005, 0.0015), ("travel_time_s", 0.0005, 0.001)]


def table(path):
    with open(path, newline="") as lines:
        return list(csv.DictReader(lines))


def agree(ours, theirs):
    # a seam of the capture, where it begins again, is a jump that each cuts in its own way
    theirs = {round(float(row["request_s"]), 2): row for row in theirs}
    pairs = [(a, theirs[k]) for a in ours if a["request_s"] and (k := round(float(a["request_s"]), 2)) in theirs]
    if len(pairs) < 0.98 * max(len(ours), len(theirs)):
        sys.exit(f"the two find unlike shifts: {len(ours)} and {len(theirs)}, {len(pairs)} with the same request")
    for name, allowed, wide in AGREE:
        both = [(float(a[name]), float(b[name])) for a, b in pairs if a[name] and b[name] not in ("", "nan")]
        apart = [x - y for x, y in both]
        middle = statistics.median(apart) if name == "landing_deg" else 0.0  # each has an origin of its own
        far = sum(abs(d - middle) > wide for d in apart) / len(apart)
        spread = statistics.median(abs(d - middle) for d in apart)
        print(f"{name}: {len(apart)} pairs, median difference {spread:.5f}, {100 * far:.2f} % beyond {wide}", file=sys.stderr)
        if spread > allowed or far > 0.02:
            sys.exit(f"the two do not measure the same: {name}")
    return len(pairs)


def whole(command, out):
    began = time.perf_counter()
    with open(out, "wb") as to:
        subprocess.run(command, stdout=to, stderr=subprocess.DEVNULL, check=True)
    return time.perf_counter() - began


class Server:
    def __init__(self, command):
        self.process = subprocess.Popen(
            ["taskset", "-c", "0", *command], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        assert self.process.stdout.readline().strip() == "ready"

    def again(self):
        self.process.stdin.write("\n")
        self.process.stdin.flush()
        return float(self.process.stdout.readline().split()[0])

    def end(self):
        self.process.stdin.close()
        self.process.wait()


def row(what, ours, theirs):
    ratios = sorted(b / a for a, b in zip(ours, theirs))
    cells = [f"{statistics.median(x):.2f} s ({min(x):.2f} to {max(x):.2f})" for x in (ours, theirs)]
    print(f"| {what} | {cells[0]} | {cells[1]} | {statistics.median(ratios):.1f} ({ratios[0]:.1f} to {ratios[-1]:.1f}) |")


def main():
    launcher, again, pipeline, capture, rows, runs, work = sys.argv[1:8]
    runs = int(runs)
    ours = [launcher, "measure", capture]
    theirs = [sys.executable, pipeline, capture]
    whole(ours, f"{work}/ours.csv")
    whole(theirs, f"{work}/theirs.csv")
    shifts = agree(table(f"{work}/ours.csv"), table(f"{work}/theirs.csv"))
    read = [(whole(ours, f"{work}/ours.csv"), whole(theirs, f"{work}/theirs.csv")) for _ in range(runs)]
    servers = (Server(again.split()), Server([sys.executable, pipeline, "--serve", capture]))
    alone = [tuple(s.again() for s in servers) for _ in range(runs + 2)][2:]
    for s in servers:
        s.end()
    print(f"{int(rows):,} samples, {shifts} shifts, {runs} rounds in turns; numpy {numpy.__version__}")
    print()
    print("| what | Shiftstand | numpy, scipy | times as fast, round by round |")
    print("|---|---:|---:|---:|")
    row("read and measure, whole process, two cores", *zip(*read))
    row("measure alone, one core", *zip(*alone))


if __name__ == "__main__":
    main()
