"""The measures of a plain capture in numpy and scipy: what somebody at a desk would write instead of starting Shiftstand.

It is here to be compared with (src/bench/compare.sh): how fast, and whether two programs that share nothing find the same.
It does less: always-sampled captures with `hall_power` only, no gaps, no damaged samples, no clocks that stop, no outcomes,
no uncertainty. What it does it does by the definitions of DEVELOPERS.md, over whole arrays; the one loop left is the median of
each rest, where a loop over 150 samples each was faster than sorting all of them by rest.

    python3 shifts.py CAPTURE.csv            shift table on standard output
    python3 shifts.py --serve CAPTURE.csv    reads once; for each line on standard input measures again, prints seconds
"""

import sys
import time

import numpy as np
from scipy.ndimage import maximum_filter1d, minimum_filter1d
from scipy.signal import savgol_filter

BAND = 20.0  # settle band, degrees
DWELL = 0.150  # seconds
RETURN = 0.6  # a motion back of less than this share of the one before belongs to the same shift
STEADY = 600.0  # degrees a second; the second-order term is told from motion above this, all over a window of
CUBIC = 33  # samples
COLUMNS = ["time_s", "hall_sin", "hall_cos", "hall_power", "current_a"]


def read(path):
    """Columns by name; numpy's own reader, in C since 1.23."""
    with open(path) as lines:
        names = lines.readline().strip().split(",")
        table = np.loadtxt(lines, delimiter=",", usecols=[names.index(c) for c in COLUMNS])
    return dict(zip(COLUMNS, np.ascontiguousarray(table.T)))


def ellipse(x, y):
    """Centre and the map that makes a circle of the ellipse through these points; least squares (Heydemann 1981)."""
    mx, my, scale = x.mean(), y.mean(), max(np.ptp(x), np.ptp(y)) / 2
    u, v = (x - mx) / scale, (y - my) / scale
    design = np.stack([u * u, u * v, v * v, u, v])
    a, b, c, d, e = np.linalg.solve(design @ design.T, design.sum(axis=1))
    cu, cv = np.linalg.solve([[2 * a, b], [b, 2 * c]], [-d, -e])
    ratio = np.sqrt(a / c)
    skew = np.arcsin(np.clip(-b / (2 * np.sqrt(a * c)), -1, 1))
    return mx + scale * cu, my + scale * cv, ratio, skew


def angle_of(sin, cos, on, interval):
    """Unwrapped angle, degrees: offset, gain and phase by an ellipse, then the second-order term from steady motion."""
    x0, y0, ratio, skew = ellipse(cos[on], sin[on])
    c = (cos - x0) * ratio
    s = ((sin - y0) - c * np.sin(skew)) / np.cos(skew)
    phase = np.arctan2(s, c)
    turns = np.unwrap(phase)
    # what a local cubic leaves where the shaft moves fast, on what it leaves of sin 2 phi and cos 2 phi
    smooth = savgol_filter(turns, CUBIC, 3)
    speed = np.abs(np.gradient(smooth, interval))
    fast = minimum_filter1d(speed, CUBIC) > np.radians(STEADY)
    terms = np.stack([wave - savgol_filter(wave, CUBIC, 3) for wave in (np.sin(2 * phase), np.cos(2 * phase))])[:, fast]
    amount = np.linalg.solve(terms @ terms.T, terms @ (turns - smooth)[fast])
    return np.degrees(turns - amount[0] * np.sin(2 * phase) - amount[1] * np.cos(2 * phase))


def rests(angle, dwell):
    """First and last sample, exclusive, of stays within the band over the dwell; neighbours at one height are one."""
    half = dwell // 2
    level = maximum_filter1d(angle, dwell) - minimum_filter1d(angle, dwell) <= BAND
    still = maximum_filter1d(level, dwell)
    still[:half] = still[half]
    edge = np.flatnonzero(np.diff(np.concatenate([[0], still.view(np.int8), [0]])))
    begin, end = edge[::2], edge[1::2]
    height = np.array([np.median(angle[b:e]) for b, e in zip(begin, end)])
    keep = np.concatenate([[True], np.abs(np.diff(height)) >= BAND])
    last = np.concatenate([np.flatnonzero(keep)[1:] - 1, [len(keep) - 1]])
    return begin[keep], end[last], height[keep]


def ranges(begin, end):
    """All places of these ranges in one row, and where in it each begins."""
    length = end - begin
    first = np.concatenate([[0], np.cumsum(length)[:-1]])
    return np.arange(length.sum()) - np.repeat(first - begin, length), first, length


def first_true(where, places, first, otherwise):
    found = np.minimum.reduceat(np.where(where, places, np.iinfo(np.int64).max), first)
    return np.where(found == np.iinfo(np.int64).max, otherwise, found)


def last_true(where, places, first, otherwise):
    found = np.maximum.reduceat(np.where(where, places, -1), first)
    return np.where(found < 0, otherwise, found)


def crossing(t, angle, before, after, at):
    """Time at which the angle passes a height between two samples."""
    span = angle[after] - angle[before]
    share = np.where(span == 0, 0, (at - angle[before]) / np.where(span == 0, 1, span))
    return t[before] + np.clip(share, 0, 1) * (t[after] - t[before])


def entered_left(t, angle, begin, end, height, band):
    """Last entry into height ± band within ranges, and first exit after it up to the end of the next range given."""
    places, first, length = ranges(begin, end)
    outside = np.abs(angle[places] - np.repeat(height, length)) > band
    last = last_true(outside, places, first, begin)
    side = np.sign(angle[last] - height)
    return crossing(t, angle, last, last + 1, height + side * band)


def left(t, angle, begin, end, height, band):
    places, first, length = ranges(begin, end)
    outside = np.abs(angle[places] - np.repeat(height, length)) > band
    at = first_true(outside, places, first, end - 1)
    side = np.sign(angle[at] - height)
    return crossing(t, angle, at - 1, at, height + side * band)


def measure(c):
    """One row a shift, by name."""
    t, on, amps = c["time_s"], c["hall_power"] > 0, c["current_a"]
    interval = (t[-1] - t[0]) / (len(t) - 1)
    angle = angle_of(c["hall_sin"], c["hall_cos"], on, interval)
    begin, end, height = rests(angle, int(round(DWELL / interval)) | 1)

    move = np.diff(height)
    back = np.concatenate([[False], (move[1:] * move[:-1] < 0) & (np.abs(move[1:]) < RETURN * np.abs(move[:-1]))])
    back[1:] &= ~back[:-1]  # a return is not returned from
    starts = np.flatnonzero(~back)  # motions that open a shift, by the rest they leave
    returned = np.concatenate([back[1:], [False]])[starts]
    first = starts + 1
    final = first + returned
    start, plateau, landing = height[starts], height[first], height[final]
    way = np.sign(height[first] - start)

    power_on = np.flatnonzero(np.diff(on.astype(np.int8)) == 1)
    opened = power_on[np.searchsorted(power_on, end[starts], side="right") - 1]
    request = (t[opened] + t[opened + 1]) / 2

    leave, arrive, finish = end[starts] - 1, begin[first], end[final]
    motion_start = left(t, angle, leave - (leave > begin[starts]), arrive + 1, start, BAND)
    places, at, length = ranges(leave, begin[final] + 2)
    reached = (angle[places] - np.repeat(landing, length)) * np.repeat(way, length) >= -BAND
    hit = first_true(reached, places, at, begin[final])
    travelled = crossing(t, angle, hit - 1, hit, landing - way * BAND)
    settled = entered_left(t, angle, leave, (begin[final] + end[final]) // 2, landing, BAND)

    hold = np.full(len(starts), np.nan)
    rest_hold = hold.copy()
    p, k = first[returned], np.flatnonzero(returned)
    if len(k):
        middle = (begin[p] + end[p]) // 2
        for band, out in ((BAND, hold), (BAND / 2, rest_hold)):
            come = entered_left(t, angle, leave[k], middle, height[p], band)
            out[k] = left(t, angle, middle, begin[p + 1] + 2, height[p], band) - come

    places, at, length = ranges(leave, end[first])
    ahead = angle[places] * np.repeat(way, length)
    extreme = np.maximum.reduceat(ahead, at) * way
    ringing = np.maximum(0, (extreme - plateau) * way)
    places, at, length = ranges(end[first] - 1, finish)
    behind = np.minimum.reduceat(angle[places] * np.repeat(way, length), at) * way
    return_ringing = np.where(returned, np.maximum(0, (landing - behind) * way), np.nan)

    stop = settled + 0.1
    from_, to = np.searchsorted(t, request), np.searchsorted(t, stop)
    places, at, _ = ranges(from_, to)
    area = np.concatenate([[0], np.cumsum((amps[1:] + amps[:-1]) / 2 * np.diff(t))])
    woken = np.array([np.median(angle[a:b]) for a, b in zip(opened + 1, np.maximum(leave, opened + 5))])
    return {
        "request_s": request,
        "motion_start_s": motion_start,
        "start_deg": start,
        "plateau_deg": np.where(returned, plateau, np.nan),
        "landing_deg": landing,
        "overtravel_deg": np.where(returned, (plateau - landing) * way, 0),
        "ringing_deg": ringing,
        "return_ringing_deg": return_ringing,
        "hold_s": hold,
        "rest_hold_s": rest_hold,
        "travel_time_s": travelled - request,
        "settle_time_s": settled - request,
        "extreme_deg": extreme,
        "creep_deg": np.concatenate([[np.nan], start[1:] - landing[:-1]]),
        "wake_up_error_deg": angle[opened + 1] - woken,
        "peak_current_a": np.maximum.reduceat(amps[places], at),
        "charge_as": np.interp(stop, t, area) - np.interp(request, t, area),
    }


def serve(path):
    columns = read(path)
    print("ready", flush=True)
    for _ in sys.stdin:
        began = time.perf_counter()
        table = measure(columns)
        print(f"{time.perf_counter() - began:.6f} {len(table['landing_deg'])}", flush=True)


if __name__ == "__main__":
    if sys.argv[1] == "--serve":
        serve(sys.argv[2])
    else:
        table = measure(read(sys.argv[1]))
        print(",".join(table))
        np.savetxt(sys.stdout, np.stack(list(table.values()), axis=1), fmt="%.6f", delimiter=",")
