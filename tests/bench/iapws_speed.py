#!/usr/bin/python3
"""python3-iapws on the same temperatures as bench_properties: row name,value,unit,target."""
import sys
import time

try:
    from iapws._iapws import _Ice  # noqa: F401  (present in every version)
    from iapws.iapws97 import _PSat_T
except ImportError:
    print("python3-iapws is not installed: skipped", file=sys.stderr)
    sys.exit(0)

N = 20000
temperatures = [280.0 + 0.01 * i for i in range(N)]
best = 1e9
for _ in range(3):
    start = time.process_time()
    total = sum(_PSat_T(t) for t in temperatures)
    best = min(best, time.process_time() - start)
print("property: saturation_pressure by python3-iapws,%.0f,ns/call," % (1e9 * best / N))
