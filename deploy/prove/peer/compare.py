"""Reads what the engine and montecarlo.py said of one field. See run.sh.

ratio FILE: the supply of nitrogen over need, from the steps of the engine's own working.
compare FOLDER: times, their ratio, and the largest difference of each figure.
"""

import json
import statistics
import sys

# How far the two may lie apart: the error of the draws.
NEAR = {"adequate": 0.005, "fail": 0.005, "good": 0.005, "lossShare": 0.003, "pays": 0.005,
        "netReturn": 1.2}


def read(name):
    with open(name, encoding="utf-8") as file:
        return json.load(file)


def engine_figure(option, name):
    f = option[name]
    keys = ["value", "low", "median", "high"] if "median" in f else ["value", "low", "high"]
    return [f.get(key) for key in keys]


def ordered(name, values):
    """A chance's ends are those of the soil, so the smaller comes first only by sorting."""
    return [values[0], *sorted(values[1:])] if name in ("fail", "good", "pays") else values


def compare(folder):
    runs = [(read(f"{folder}/engine.{i}"), read(f"{folder}/numpy.{i}")) for i in (1, 2, 3)]
    engine = statistics.median(e["engine"] for e, _ in runs)
    numpy = statistics.median(n["field"] for _, n in runs)
    ratio = statistics.median(n["field"] / e["engine"] for e, n in runs)
    print(f"engine, whole report {engine:.2f} ms, numpy, inoculant figures only {numpy:.1f} ms: "
          f"the engine is {ratio:.1f} times faster")
    wrong = 0
    options = {o["key"]: o for o in runs[0][0]["options"]}
    for name, near in NEAR.items():
        worst = 0.0
        for plan, figures in runs[0][1]["figures"].items():
            if name in figures:
                got = ordered(name, engine_figure(options[plan], name))
                want = ordered(name, figures[name])
                worst = max([worst, *(abs(a - b) for a, b in zip(got, want, strict=True))])
        wrong += worst > near
        print(f"{name}: at most {worst:.4f} apart, draws allow {near}")
    return 1 if wrong else 0


def supply_ratio(option):
    """s = ratio limited to 1, from the step that the loss shows."""
    steps = {s["code"]: s["value"] for s in option["lossShare"]["steps"]}
    return steps["step.supply"]


if sys.argv[1] == "ratio":
    print(supply_ratio(read(sys.argv[2])["options"][0]))
else:
    sys.exit(compare(sys.argv[2]))
