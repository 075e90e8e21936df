#!/usr/bin/env python3
"""Cutting jobs as JSON lines on standard output.  Standard library only.

usage: jobs.py cabinets | trim | published no_turn|turn | bars [EVERY]
  cabinets   every job of the standard cabinet set of gen.py
  trim       the 30 priced trim jobs of gen1d.py: 20, 60, 200 parts, mm and inch, seeds 0-4
  published  the 500 archived sheet instances, turnable or not
  bars       the archived bar instances: first ten of u120, u250, t60, t120, every fortieth of scholl1
"""
import json, lzma, os, sys

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
import gen, gen1d


def archived(name):
    with lzma.open(os.path.join(HERE, "data", name), "rt") as f:
        for line in f:
            yield json.loads(line)


def bars():
    seen = {}
    for job in archived("bpp1d.jsonl.xz"):
        words = job["name"].split("_")
        group = "_".join(words[:2]) if words[0] == "falk" else words[0]
        n = seen[group] = seen.get(group, -1) + 1
        if group in ("falk_u120", "falk_u250", "falk_t60", "falk_t120") and n < 10 or group == "scholl1" and n % 40 == 0:
            yield job


def published(turn):
    for job in archived("class500.jsonl.xz"):
        for p in job["parts"]:
            p["can_rotate"] = turn
        yield job


def trim():
    for n in (20, 60, 200):
        for system in ("metric", "inch"):
            for seed in range(5):
                yield gen1d.trim(n, seed, system)


SETS = {"cabinets": lambda *a: gen.cabinet_set(), "trim": lambda *a: trim(), "bars": lambda *a: bars(),
        "published": lambda turn: published(turn == "turn")}
for job in SETS[sys.argv[1]](*sys.argv[2:]):
    print(json.dumps(job))
