"""Whole processes, start to end: the comparison of the demo, and a Python notebook that does alike.

Called by scripts/bench.mjs with a folder to write into, the study, and the commands as JSON, which write
into `report` there. Prints the processor time of each, ms, the best of three.
"""
import json
import os
import shutil
import subprocess
import sys

import matplotlib  # noqa: F401, so that its absence is said at once
import nbformat.v4 as notebook

folder, study, commands = sys.argv[1], sys.argv[2], json.loads(sys.argv[3])

# Interval of the ratio of each series, the same pictures, a fit and a simulation: no budget, no drift, no
# screening, so it does less.
CELLS = [
    f"""import json, numpy as np, pandas as pd, matplotlib.pyplot as plt
from scipy import optimize, stats
study = json.load(open({study!r} + '/study.json'))
runs = pd.read_csv({study!r} + '/runs.csv')
runs['power'] = runs.reading_mW - runs.zero_mW.fillna(0)
runs = runs[runs.exclude.isna()]""",
    """def lapsOf(series):
    r = series[series.meter == 'reference'].power.values
    c = series[series.meter == 'candidate'].power.values
    n = min(len(r), len(c))
    return r[:n], c[:n]
rows = []
for name, series in runs.groupby('series', sort=False):
    r, c = lapsOf(series)
    y = np.log(r / c)
    reach = stats.t.ppf(0.975, len(y) - 1) * y.std(ddof=1) / len(y) ** 0.5
    rows.append((name, np.exp(y.mean()), np.exp(y.mean() - reach), np.exp(y.mean() + reach)))
table = pd.DataFrame(rows, columns=['series', 'K', 'low', 'high'])
table""",
    """figure, axes = plt.subplots(7, 2, figsize=(9, 20))
for axis, (name, series) in zip(axes.flat, runs.groupby('series', sort=False)):
    for meter, own in series.groupby('meter'):
        axis.plot(range(len(own)), own.power, 'o-', label=meter)
    axis.set_title(name)
plt.tight_layout()
plt.show()""",
    """plt.errorbar(range(len(table)), table.K, yerr=[table.K - table.low, table.high - table.K], fmt='o')
plt.show()""",
    """for name, series in runs.groupby('series'):
    optimize.curve_fit(lambda x, a, b: a + b * x, np.arange(len(series)), np.log(series.power.values))
plt.hist(np.log(runs.power))
plt.show()""",
    """for name, series in runs.groupby('series', sort=False):
    r, c = lapsOf(series)
    plt.semilogx((r + c) / 2, 100 * (c - r) / r, 'o')
plt.show()
np.percentile(np.random.default_rng(1).normal(size=100_000), [2.5, 97.5])""",
]

path = os.path.join(folder, "peer.ipynb")
cells = [notebook.new_code_cell(source) for source in CELLS]
kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
with open(path, "w", encoding="utf-8") as file:
    json.dump(notebook.new_notebook(cells=cells, metadata={"kernelspec": kernel}), file)
peer = ["jupyter", "nbconvert", "--to", "notebook", "--execute", path, "--output", "executed.ipynb"]


def seconds(command):
    shutil.rmtree(os.path.join(folder, "report"), ignore_errors=True)
    before = os.times()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    after = os.times()
    return (
        after.children_user + after.children_system - before.children_user - before.children_system
    )


def best(command):
    return 1000 * min(seconds(command) for _ in range(3))


print(json.dumps({"peer": best(peer), **{name: best(own) for name, own in commands.items()}}))
