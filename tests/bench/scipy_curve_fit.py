#!/usr/bin/python3
"""SciPy's curve_fit on what bench_fit fits: rows name,value,unit,target. Processor time, best of several."""
import math
import re
import resource
import sys
import time

try:
    import numpy as np
    from scipy.optimize import curve_fit
except ImportError:
    print("python3-scipy is not installed: skipped", file=sys.stderr)
    sys.exit(0)


def best_of(f, rounds=7):
    best = math.inf
    for _ in range(rounds):
        start = time.process_time()
        answer = f()
        best = min(best, time.process_time() - start)
    return 1e3 * best, answer


i = np.arange(20)
a = 0.04 + 0.045 * i
w = 0.7128 * a / ((1 - 0.72 * a) * (1 + 7.2 * a)) + 0.001 * (i * 7 % 5 - 2)


def gab(x, m, c, k):
    return m * c * k * x / ((1 - k * x) * (1 + (c - 1) * k * x))


took, (b, _) = best_of(lambda: curve_fit(gab, a, w, p0=[0.08, 8, 0.8]))
print("fit: GAB on 20 points by SciPy curve_fit,%.4g,ms," % took)
print("fit: GAB on 20 points by SciPy curve_fit: RSS,%.12g,1," % np.sum((gab(a, *b) - w) ** 2))

# Certified sets, to the last digits that it gives: data, second start and certified values from the header of the C tests.
text = open("tests/reference/strd_data.h").read()


def numbers(name):
    body = re.search(r"static const double %s\[\] = \{(.*?)\}" % name, text, re.S).group(1)
    return np.array([float(x) for x in body.replace("\n", " ").split(",") if x.strip()])


def cubic(x, b1, b2, b3, b4, b5, b6, b7):
    return (b1 + x * (b2 + x * (b3 + x * b4))) / (1 + x * (b5 + x * (b6 + x * b7)))


def mgh09(x, b1, b2, b3, b4):
    return b1 * (x * x + x * b2) / (x * x + x * b3 + b4)


for name, model in (("Hahn1", cubic), ("Thurber", cubic), ("MGH09", mgh09)):
    row = re.search(r'\{"%s",.*?\{\{(.*?)\},\s*\{(.*?)\}\},\s*\{(.*?)\}' % name, text, re.S)
    start, certified = ([float(x) for x in row.group(k).replace("\n", " ").split(",")] for k in (2, 3))
    x, y = numbers(name.lower() + "_x"), numbers(name.lower() + "_y")
    try:
        took, (b, _) = best_of(lambda: curve_fit(model, x, y, p0=start, maxfev=100000, ftol=1e-15, xtol=1e-15, gtol=1e-15))
    except RuntimeError as trouble:
        print("%s: curve_fit found nothing: %s" % (name, trouble), file=sys.stderr)
        continue
    off = np.max(np.abs(b / np.array(certified) - 1))
    print("fit: certified set %s by SciPy curve_fit,%.4g,ms," % (name, took))
    print("fit: certified set %s by SciPy curve_fit: digits,%.1f,digits," % (name, min(11, -math.log10(off))))
print("fit: peak memory of Python with SciPy curve_fit,%.0f,MB," % (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000))
