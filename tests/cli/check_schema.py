#!/usr/bin/env python3
"""Every --json report keeps to the schema that `matchmark schema` prints (JSON Schema draft 2020-12).

The judge is python3-jsonschema, an implementation of its own. The schemas are closed (no further members), and a
report that breaks them in one place must be refused, so that the check itself can fail.
Usage: check_schema.py PROGRAM
"""
import json
import subprocess
import sys
from pathlib import Path

try:
    import jsonschema
except ImportError:
    print("python3-jsonschema is not installed")
    sys.exit(77)

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = sys.argv[1]
failures = []
counts = {"check": 0, "why": 0, "trial": 0, "list": 0}


def run(*words):
    done = subprocess.run([PROGRAM, *words], cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)
    return done.returncode, done.stdout


def relative(folder, ending):
    return sorted(str(path.relative_to(ROOT)) for path in (ROOT / folder).rglob("*" + ending))


def validator(report):
    status, text = run("schema", report)
    assert status == 0, f"matchmark schema {report}: exit status {status}"
    schema = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


VALIDATORS = {report: validator(report) for report in counts}


def judge(report, *words):
    """Runs `matchmark REPORT WORDS --json`; the report, or None where the file was refused."""
    status, text = run(report, *words, "--rules", "rules", "--json")
    if status > 2:
        return None
    data = json.loads(text)
    counts[report] += 1
    if data["exit_status"] != status:
        failures.append(f"{report} {words}: exit status {status}, but the report says {data['exit_status']}")
    for error in list(VALIDATORS[report].iter_errors(data))[:3]:
        failures.append(f"{report} {words}: {error.json_path}: {error.message[:300]}")
    return data


def must_refuse(report, data, change):
    copy = json.loads(json.dumps(data))
    change(copy)
    if VALIDATORS[report].is_valid(copy):
        failures.append(f"the schema of {report} takes a broken report")


for path in relative("builds", ".build") + relative("examples", ".build"):
    data = judge("check", path)
    if not data or not any(build["findings"] for build in data["builds"]):
        continue
    must_refuse("check", data, lambda d: d["builds"][0].update(surplus=1))
    must_refuse("check", data, lambda d: d["builds"][0].pop("totals"))
    first = next(build for build in data["builds"] if build["findings"])
    names = []
    for finding in first["findings"]:
        if finding["requirement"] not in names:
            names.append(finding["requirement"])
    for name in names[:8]:
        why = judge("why", path, name, "--build", first["build"])
        if why:
            must_refuse("why", why, lambda d: d["builds"][0]["findings"][0].update(verdict="perhaps"))

for path in relative("rules", ".rules"):
    judge("trial", path)

LISTED = ("kinds", "interfaces", "designations", "choices", "tables", "formulas", "rules", "requirements")
met = set()
for path in relative("rules", ".rules") + relative("examples", ".rules"):
    data = judge("list", path)
    for sort in LISTED:
        if data and data[sort]:
            met.add(sort)
            must_refuse("list", data, lambda d, sort=sort: d[sort][0].update(surplus=1))
if len(met) < len(LISTED):
    failures.append(f"no file lists {set(LISTED) - met}")

for report, count in counts.items():
    if count == 0:
        failures.append(f"no report of {report} was looked at")
print("\n".join(failures[:40]))
print(", ".join(f"{count} of {report}" for report, count in counts.items()), "reports looked at,", len(failures), "wrong")
sys.exit(1 if failures else 0)
