#!/usr/bin/env python3
"""Judges layouts: one JSON line {"job", "layout"} in, one line {"faults", "measured"} out.  Standard library only."""
import json, os, sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import check, check1d

for line in sys.stdin:
    asked = json.loads(line)
    job, layout = asked["job"], asked["layout"]
    faults, measured = (check if "sheets" in job else check1d).check(job, layout)
    measured.pop("per_sheet", None)
    print(json.dumps({"faults": faults, "measured": measured}), flush=True)
