"""What NumPy, SciPy and pandas take for the same work; called by scripts/bench.mjs with a folder of data."""
import json
import sys
import time

import numpy as np
import pandas as pd
from scipy.optimize import curve_fit
from scipy.stats import theilslopes


def best(work, rounds):
    least = None
    for _ in range(rounds):
        start = time.process_time()
        answer = work()
        took = time.process_time() - start
        least = took if least is None else min(least, took)
    return 1000 * least, answer


def response(t, settled, tau, onset, drift):
    s = np.maximum(t - onset, 0)
    return settled * ((1 - drift * tau) * -np.expm1(-s / tau) + drift * s)


def settle(path):
    def work():
        table = pd.read_csv(path)
        start = [table.reading_mW.max(), 1.0, 1.0, 0.0]
        found, _ = curve_fit(response, table.elapsed_s.values, table.reading_mW.values, p0=start)
        return list(found)

    return work


def slopes(path):
    with open(path) as file:
        points = json.load(file)
    return lambda: list(theilslopes(points["y"], points["x"]))[:1]


folder = sys.argv[1]
found = {}
for size in (1000, 16000, 200000, 1000000):
    found[f"trace {size}"] = best(settle(f"{folder}/trace-{size}/traces.csv"), 3)
found["theil-sen 3000"] = best(slopes(f"{folder}/points-3000.json"), 3)
print(json.dumps({"numpy": np.__version__, "pandas": pd.__version__, "found": found}))
